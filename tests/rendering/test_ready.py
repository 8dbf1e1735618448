import inspect
from importlib.metadata import PackageNotFoundError
from pathlib import Path
from typing import Any

import pytest

from leaflets import ready as ready_module
from leaflets.errors import LeafletError
from leaflets.ready import PANGO_NAMES, SUBSETTER_NAMES, Part, ready
from leaflets.render import fonts, pdf


def by_name() -> dict[str, Part]:
    return {part.name: part for part in ready()}


def test_a_machine_that_is_fit_has_every_part_and_prints_a_page() -> None:
    parts = by_name()
    assert list(parts) == ["Python", "WeasyPrint", "Pango", "libharfbuzz-subset", "Fonts", "Trial page"]
    assert all(part.ok and part.found and not part.remedy for part in parts.values())


def assert_unfit(name: str, remedy: str) -> None:
    parts = by_name()
    assert "Trial page" not in parts
    assert [part.name for part in parts.values() if not part.ok] == [name]
    assert remedy in parts[name].remedy
    assert parts[name].found


def test_an_old_python_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ready_module, "OLDEST_PYTHON", (99, 0))
    assert_unfit("Python", "99.0")


def test_missing_fonts_are_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(fonts, "FONT_FOLDER", tmp_path)
    assert_unfit("Fonts", "apt-get install fonts-noto-core && python -m leaflets.render.fonts")


@pytest.mark.parametrize(
    ("name", "library", "package"),
    [
        ("Pango", PANGO_NAMES, "libpango-1.0-0"),
        ("libharfbuzz-subset", SUBSETTER_NAMES, "libharfbuzz-subset0"),
    ],
)
def test_a_missing_library_is_named(
    name: str, library: tuple[str, ...], package: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    really_load = ready_module._load  # noqa: SLF001
    monkeypatch.setattr(ready_module, "_load", lambda names: None if names == library else really_load(names))
    assert_unfit(name, f"apt-get install {package}")


def test_a_library_that_does_not_exist_is_not_found() -> None:
    assert ready_module._load(["no-such-library", "libno-such.so.0"]) is None  # noqa: SLF001


def test_a_wrong_version_of_weasyprint_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "version", lambda _name: "69.0")
    assert_unfit("WeasyPrint", 'pip install "weasyprint>=70,<71"')


def test_a_missing_weasyprint_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def not_installed(name: str) -> str:
        raise PackageNotFoundError(name)

    monkeypatch.setattr(pdf, "version", not_installed)
    assert_unfit("WeasyPrint", "pip install")


def test_a_weasyprint_that_does_not_load_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail() -> None:
        raise LeafletError.at("WeasyPrint", "it cannot be loaded: no library", "run: apt-get install")

    monkeypatch.setattr(ready_module, "import_weasyprint", fail)
    assert_unfit("WeasyPrint", "apt-get install")


def test_the_libraries_are_looked_for_under_the_names_that_weasyprint_tries(engine: Any) -> None:
    source = inspect.getsource(engine.text.ffi)
    for start, names in (("pango = _dlopen(", PANGO_NAMES), ("harfbuzz_subset = _dlopen(", SUBSETTER_NAMES)):
        call = source[source.index(f"\n{start}") :].split(")", 1)[0]
        assert tuple(call.split("'")[1::2]) == names
