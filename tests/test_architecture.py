"""How the project is laid out. What may import what is held by import-linter, in `make test`."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "leaflets",
    "templates",
    "locales",
    "tests",
    "LICENSE",
    "Makefile",
}
LONGEST_MODULE_LINES = 350
MODULES = sorted(path for path in (TOP / "leaflets").rglob("*.py") if "__pycache__" not in path.parts)
VAGUE = {"utils", "util", "helpers", "helper", "manager", "managers", "handler", "handlers", "common", "misc"}


def _tracked() -> list[str]:
    """Return the files of the project: those that git keeps or would keep, ignored ones aside."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    told = subprocess.run(command, cwd=TOP, capture_output=True, text=True, check=False)
    if told.returncode != 0:
        pytest.skip("not a checkout of git: the files of the project cannot be told from others")
    return told.stdout.splitlines()


def test_the_top_level_holds_its_fixed_set_only() -> None:
    names = {name.split("/")[0] for name in _tracked()}
    assert {name for name in names if not name.startswith(".")} <= TOP_LEVEL
    assert {"README.md", "pyproject.toml", "leaflets", "templates", "locales", "tests", "LICENSE", "Makefile"} <= names


def test_no_python_lies_among_the_words() -> None:
    assert not [name for name in _tracked() if name.startswith(("templates/", "locales/")) and name.endswith(".py")]


def test_a_module_is_short_or_named_among_the_decisions() -> None:
    developers = TOP / "DEVELOPERS.md"
    decisions = developers.read_text("utf-8").partition("Decisions")[2] if developers.exists() else ""
    long = [path for path in MODULES if len(path.read_text("utf-8").splitlines()) > LONGEST_MODULE_LINES]
    assert [str(path.relative_to(TOP)) for path in long if path.relative_to(TOP).as_posix() not in decisions] == []


def test_no_module_has_a_name_that_says_nothing() -> None:
    assert not [path for path in MODULES if VAGUE & set(re.split(r"[_.]", path.stem))]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(TOP).as_posix())
def test_a_module_says_what_it_is_for_and_nothing_waits_in_it(path: Path) -> None:
    text = path.read_text("utf-8")
    assert ast.get_docstring(ast.parse(text)), "a module starts with what it is for"
    assert not re.search(r"\b(TODO|FIXME|XXX|HACK)\b", text)


def test_python_asks_for_no_words_of_a_leaflet() -> None:
    """Words are asked for in templates alone: no module calls gettext with a text of its own."""
    asking = {"_", "N_", "gettext", "ngettext", "pgettext", "npgettext"}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
                name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
                assert name not in asking, f"{path}:{node.lineno}"


def test_python_holds_no_clinical_number_of_a_course() -> None:
    """A rule, a template or a module that needs a number names it: `numbers.whole("olive-oil.days")`."""
    for path in sorted((TOP / "leaflets" / "rules").glob("*.toml")):
        if path.stem in ("numbers", "countries", "sources"):
            continue
        text = re.sub(r"#.*|source = .*|reviewed = .*", "", path.read_text("utf-8"))
        assert not re.search(r"[=\[ ]\d+\b", text), path


def test_no_file_names_a_folder_of_one_machine() -> None:
    absolute = re.compile(r"(?<![\w.:/-])/(?:home|root|srv|Users)/\w")
    for name in _tracked():
        path = TOP / name
        if path.suffix in (".py", ".md", ".toml", ".html", ".css", ".svg", ".pot", "") and path.is_file():
            assert not absolute.search(path.read_text("utf-8")), name
