# One command each, from a fresh clone: make demo, make test. Both do all the set-up themselves.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
FONTS := leaflets/render/fonts

# What printing needs of the system, and what the tests need besides. Debian's names.
PRINTING := libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-noto-core liblouis20 liblouis-data
TESTING := poppler-utils qpdf espeak-ng diction liblingua-en-fathom-perl chromium gettext liblouis-bin
# Reference libraries from npm, for the tests; node itself comes with the development extra.
REFERENCES := tests/readability/oracles

.PHONY: demo test bench gallery words check setup setup-test clean help

help: ## what there is to make
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /: /'

demo: setup ## the leaflets of invented visits, in out/, with a gallery
	$(BIN)/leaflets demo --out out

test: setup-test ## every check that a change must pass
	$(BIN)/ruff check leaflets tests
	$(BIN)/ruff format --check leaflets tests
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/pytest -n auto

bench: setup-test ## how long things take, side by side
	$(BIN)/python tests/bench.py

gallery: setup-test ## every format in every language as pictures to look at, in out/gallery
	$(BIN)/python tests/gallery.py out/gallery

words: setup ## bring locales/ up to date with the templates
	$(BIN)/leaflets words update

setup: $(VENV)/.installed $(FONTS)/.installed

setup-test: setup $(VENV)/.installed-test $(REFERENCES)/node_modules/.installed

$(VENV)/.installed: pyproject.toml
	@$(call install_system,$(PRINTING))
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Python 3.11 or later is needed: name it with make PYTHON=…")'
	@$(PYTHON) -m venv $(VENV) || { $(call install_system,python3-venv) && $(PYTHON) -m venv $(VENV); }
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[pictures]'
	@touch $@

$(VENV)/.installed-test: $(VENV)/.installed
	@$(call install_system,$(TESTING))
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[pictures,dev]'
	@touch $@

$(REFERENCES)/node_modules/.installed: $(VENV)/.installed-test $(REFERENCES)/package-lock.json
	$(BIN)/npm ci --silent --no-audit --no-fund --prefix $(REFERENCES)
	@touch $@

$(FONTS)/.installed: $(VENV)/.installed
	$(BIN)/python -m leaflets.render.fonts
	@touch $@

clean: ## take away all that was made
	rm -rf $(VENV) $(FONTS) $(REFERENCES)/node_modules out dist .mypy_cache .pytest_cache .ruff_cache .hypothesis .import_linter_cache

# Install Debian packages that are missing, if we may; otherwise say which.
define install_system
missing=""; for package in $(1); do dpkg-query -W -f='$${Status}' $$package 2>/dev/null | grep -q 'ok installed' || missing="$$missing $$package"; done; \
if [ -n "$$missing" ]; then \
  if ! command -v apt-get >/dev/null; then echo "Please install with your system's package manager, then run make again:$$missing"; \
  elif [ "$$(id -u)" = 0 ]; then apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing >/dev/null; \
  elif sudo -n true 2>/dev/null; then sudo apt-get update -qq && sudo DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing >/dev/null; \
  else echo "Please run: sudo apt-get install$$missing, then make again"; exit 1; fi; \
fi
endef
