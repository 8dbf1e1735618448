import hashlib
import io
import logging
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Thread
from types import ModuleType
from typing import Any

import pikepdf
import pytest

from leaflets.errors import LeafletError
from leaflets.render import fonts, pdf
from leaflets.render.fetcher import Asset
from leaflets.render.pdf import RenderedPdf, Stylesheet, load_stylesheet, render_pdf, require_engine

Render = Callable[..., RenderedPdf]


def test_pages_and_anchors_say_where_everything_is(sample: ModuleType, render: Render) -> None:
    document = render(sample.HTML)
    # The sample breaks the page once, before its last heading.
    assert document.pages == 2
    assert dict(document.anchors) == {"top": 1, "lists": 1, "table": 1, "after": 2, "last": 2}
    with pikepdf.open(io.BytesIO(document.pdf)) as opened:
        assert len(opened.pages) == 2


def test_an_element_over_two_pages_starts_on_the_first(render: Render) -> None:
    document = render("<p id='long'>" + "word " * 2000 + "</p><p id='next'>a</p>", css="")
    assert document.pages > 1
    assert dict(document.anchors) == {"long": 1, "next": document.pages}


def test_a_block_that_moves_whole_to_the_next_page_starts_there(render: Render) -> None:
    css = "@page { size: 100mm 100mm; margin: 0 } div { height: 60mm; break-inside: avoid }"
    document = render("<div id='a'>a</div><section id='s'><div id='b'>b</div></section>", css=css)
    assert dict(document.anchors) == {"a": 1, "s": 2, "b": 2}


def test_what_is_not_laid_out_has_no_page(render: Render) -> None:
    assert dict(render("<p id='a'>a</p><p id='b' style='display: none'>b</p>").anchors) == {"a": 1}


def test_the_page_of_an_anchor_cannot_be_changed(render: Render) -> None:
    with pytest.raises(TypeError):
        render("<p id='a'>a</p>").anchors["a"] = 2  # type: ignore[index]


def test_the_document_says_what_it_is(sample: ModuleType, render: Render) -> None:
    with pikepdf.open(io.BytesIO(render(sample.HTML).pdf)) as opened:
        metadata = opened.open_metadata()
        assert metadata["pdfuaid:part"] == "1"
        assert metadata["dc:title"] == "A sample of all elements"
        assert opened.Root.Lang == "en"
        assert "/CreationDate" not in opened.docinfo


@pytest.mark.parametrize(
    ("problem", "body"),
    [
        ("notdef glyph.*U\\+2610", "<p>☐</p>"),
        ("Anchor defined twice: 'a'", "<p id='a'>a</p><p id='a'>b</p>"),
        ("no required alt description", "<img src='asset:circle.svg'>"),
        ("unknown property", "<p style='colour: red'>a</p>"),
        ("No anchor #nowhere", "<p><a href='#nowhere'>a</a></p>"),
        ("Failed to load image", "<img alt='a' src='asset:broken.svg'>"),
    ],
)
def test_every_warning_is_an_error(problem: str, body: str, sample: ModuleType, stylesheet: Stylesheet) -> None:
    assets = {**sample.ASSETS, "asset:broken.svg": Asset(b"no picture", "image/svg+xml")}
    with pytest.raises(LeafletError, match=f"^leaflet: .*{problem}|\nleaflet: .*{problem}"):
        render_pdf(sample.page(body), stylesheet=stylesheet, assets=assets)


def test_all_that_is_wrong_is_told_at_once(render: Render) -> None:
    with pytest.raises(LeafletError) as error:
        render("<p style='colour: red'>☐</p><p>☐</p><svg viewBox='0 0 1 1'><path d='M0 0h1'/></svg>", css="")
    # The same character twice is one problem; then the rule, and the picture.
    assert len(error.value.problems) == 3


@pytest.mark.parametrize("css", ["p { colour: red }", "p { color: }", "p { color red }", "@nonsense { }", "p"])
def test_every_warning_about_a_style_sheet_is_an_error(css: str) -> None:
    with pytest.raises(LeafletError, match=r"^style sheet: "):
        load_stylesheet(css, {})


def test_a_document_needs_a_title(sample: ModuleType, render: Render) -> None:
    with pytest.raises(LeafletError, match="no title"):
        render(sample.page("<p>a</p>", head=""))


def test_a_document_needs_a_language(sample: ModuleType, render: Render) -> None:
    with pytest.raises(LeafletError, match='"lang"'):
        render(sample.page("<p>a</p>", lang=""))


@pytest.fixture
def deaf_logging() -> Iterator[logging.Logger]:
    """Set logging so that no warning of WeasyPrint would be heard."""
    logger = logging.getLogger("weasyprint")
    before = logger.level, logger.propagate, logger.disabled
    logger.setLevel(logging.CRITICAL)
    logger.disabled = True
    logging.disable(logging.CRITICAL)
    yield logger
    logging.disable(logging.NOTSET)
    logger.setLevel(before[0])
    logger.propagate, logger.disabled = before[1:]


def test_no_setting_of_logging_hides_a_warning(render: Render, deaf_logging: logging.Logger) -> None:
    handlers = list(deaf_logging.handlers)
    with pytest.raises(LeafletError, match="U\\+2610"):
        render("<p>☐</p>")
    assert deaf_logging.level == logging.CRITICAL
    assert deaf_logging.disabled
    assert deaf_logging.manager.disable == logging.CRITICAL
    assert deaf_logging.handlers == handlers


def test_nothing_is_printed(render: Render, capfd: pytest.CaptureFixture[str], caplog: Any) -> None:
    with pytest.raises(LeafletError):
        render("<p>☐</p>")
    assert capfd.readouterr() == ("", "")
    assert caplog.records == []


def test_a_style_sheet_serves_one_document_after_another_and_the_bytes_stay_the_same(
    sample: ModuleType, render: Render
) -> None:
    first = render(sample.HTML).pdf
    render("<p>another document, with a <b>bold</b> word</p>")
    with pytest.raises(LeafletError):
        render("<p>☐</p>")
    assert render(sample.HTML).pdf == first
    assert render(sample.HTML, css=sample.CSS).pdf == first


def test_a_cleared_folder_for_temporary_files_lets_no_other_font_in(sample: ModuleType, render: Render) -> None:
    expected = render(sample.HTML, css=sample.CSS).pdf
    shutil.rmtree(Path(os.environ["FONTCONFIG_FILE"]).parent)
    assert render(sample.HTML, css=sample.CSS).pdf == expected


def test_other_words_give_other_bytes(sample: ModuleType, render: Render) -> None:
    assert render(sample.HTML).pdf != render(sample.HTML.replace("Monday", "Sunday")).pdf


def test_counter_styles_of_the_style_sheet_are_kept(render: Render) -> None:
    css = "@counter-style dose { system: cyclic; symbols: 'dose'; suffix: ' ' } ol { list-style: dose }"
    assert len(render("<ol><li>a</li></ol>", css=css).pdf) != len(render("<ol><li>a</li></ol>", css="").pdf)


@pytest.mark.parametrize(
    "settings",
    [
        {"PYTHONHASHSEED": "0"},
        {"PYTHONHASHSEED": "1", "LANG": "ar_SA.UTF-8", "LC_ALL": "ar_SA.UTF-8", "FC_LANG": "ur"},
        {"PYTHONHASHSEED": "2", "TZ": "Asia/Tokyo", "LC_ALL": "C", "PANGO_LANGUAGE": "hi"},
    ],
)
def test_another_process_gives_the_same_bytes(settings: dict[str, str], sample: ModuleType, render: Render) -> None:
    code = """if True:
        import hashlib, runpy, sys
        from leaflets.render.pdf import load_stylesheet, render_pdf
        sample = runpy.run_path(sys.argv[1])
        look = load_stylesheet(sample["CSS"], sample["ASSETS"])
        document = render_pdf(sample["HTML"], stylesheet=look, assets=sample["ASSETS"])
        print(hashlib.sha256(document.pdf).hexdigest())
    """
    told = subprocess.run(
        [sys.executable, "-c", code, sample.__file__],
        env={**os.environ, **settings},
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip() == hashlib.sha256(render(sample.HTML).pdf).hexdigest()
    assert told.stderr == ""


def test_threads_wait_for_each_other(sample: ModuleType, render: Render) -> None:
    results: list[bytes] = []
    expected = render(sample.HTML).pdf
    threads = [Thread(target=lambda: results.append(render(sample.HTML).pdf)) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert results == [expected] * 3


def test_weasyprint_is_not_imported_before_it_is_needed() -> None:
    code = "import sys, leaflets.render.pdf, leaflets.ready; print('weasyprint' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout == "False\n"


@pytest.fixture
def unchecked() -> Iterator[None]:
    """Have the engine looked at anew, in the test and after it."""
    require_engine.cache_clear()
    yield
    require_engine.cache_clear()


@pytest.mark.usefixtures("unchecked")
def test_a_missing_subsetter_is_refused(engine: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine.text.ffi, "harfbuzz_subset", None)
    with pytest.raises(LeafletError, match="apt-get install libharfbuzz-subset0"):
        load_stylesheet("", {})


@pytest.mark.usefixtures("unchecked", "engine")
@pytest.mark.parametrize(
    ("found", "fit"),
    [("69.9", False), ("70.0", True), ("70", True), ("70.1.2", True), ("71.0", False), ("100.0", False)],
)
def test_a_version_that_was_not_checked_is_refused(found: str, fit: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf, "version", lambda _name: found)
    if fit:
        require_engine()
        return
    with pytest.raises(LeafletError, match=f"version {found} was not checked"):
        require_engine()


@pytest.mark.usefixtures("engine")
def test_a_font_that_cannot_be_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in fonts.FONT_FILES:
        (tmp_path / name).write_bytes((fonts.FONT_FOLDER / name).read_bytes())
    (tmp_path / "NotoSans-Bold.ttf").write_bytes(b"version https://example.org/pointer")
    monkeypatch.setenv("FONTCONFIG_FILE", os.environ["FONTCONFIG_FILE"])
    for module in (fonts, pdf):
        monkeypatch.setattr(module, "FONT_FOLDER", tmp_path)
    with pytest.raises(LeafletError, match="13 fonts can be read there, not 14"):
        load_stylesheet("", {})


def test_a_missing_library_is_an_error_with_its_remedy_and_prints_nothing() -> None:
    code = """if True:
        import cffi
        found = cffi.FFI.dlopen
        def without_pango(self, name, *flags):
            if "pango" in name:
                raise OSError("cannot load library " + name)
            return found(self, name, *flags)
        cffi.FFI.dlopen = without_pango
        from leaflets.errors import LeafletError
        from leaflets.render.pdf import load_stylesheet
        try:
            load_stylesheet("", {})
        except LeafletError as error:
            print("refused:", error)
    """
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.startswith("refused: WeasyPrint: it cannot be loaded")
    assert "apt-get install libpango-1.0-0" in told.stdout
    assert len(told.stdout.splitlines()) == 1
    assert told.stderr == ""
