"""HTML to an accessible PDF (PDF/UA-1): one layout, no warning let pass, the same bytes for the same input.

WeasyPrint is imported at the first rendering, with the fonts isolated before that. The rendering is not made for
threads: a lock lets one in at a time. Use processes.
"""

import logging
import threading
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, redirect_stdout
from dataclasses import dataclass
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from io import StringIO
from types import MappingProxyType
from typing import Any

from leaflets.errors import LeafletError, Problem, did_you_mean
from leaflets.render import (
    INSTALL_FONTS,
    INSTALL_LIBRARIES,
    INSTALL_SUBSETTER,
    INSTALL_WEASYPRINT,
    WEASYPRINT_BEFORE,
    WEASYPRINT_FROM,
)
from leaflets.render.fetcher import Asset, LockedFetcher
from leaflets.render.fonts import FONT_FILES, FONT_FOLDER, isolate_fonts
from leaflets.render.overflow import texts_outside

_ONE_AT_A_TIME = threading.RLock()


@dataclass(frozen=True)
class Stylesheet:
    """A parsed style sheet, for any number of renderings in this process. Made by `load_stylesheet`.

    Attributes:
        css: WeasyPrint's own form of the rules.
        fonts: the font configuration that the rules were read with and every rendering shares.
        counters: the counter styles that the rules define.

    """

    css: Any
    fonts: Any
    counters: Any


@dataclass(frozen=True)
class RenderedPdf:
    """A finished document.

    Attributes:
        pdf: the content of the file.
        pages: how many pages it has, at least 1.
        folded: the same pages two on a sheet, in the order in which a folded sheet is printed; a copy for printing
            only, since nothing in it is tagged for a screen reader. None: it was not asked for.
        anchors: the page, counted from 1, on which each element that has an id starts. What is not laid out
            (`display: none`, or no box of its own) is left out.
        outside: pieces of text that reach over the edge of their column or page, where they were asked for.

    """

    pdf: bytes
    pages: int
    anchors: Mapping[str, int]
    outside: tuple[str, ...] = ()
    folded: bytes | None = None


def load_stylesheet(css: str, assets: Mapping[str, Asset]) -> Stylesheet:
    """Parse a style sheet once, so that renderings can share it.

    Args:
        css: the rules.
        assets: the style sheets it may import, each under its whole address, as in `asset:styles/page.css`. Pictures
            that the rules name are looked up at each rendering, among the assets of that rendering.

    Raises:
        LeafletError: when a rule is not understood, an address is not among the assets, or the machine is not fit.

    """
    weasyprint = require_engine()
    from weasyprint.css.counters import CounterStyle  # noqa: PLC0415 # as in import_weasyprint
    from weasyprint.text.fonts import FontConfiguration  # noqa: PLC0415

    isolate_fonts()
    _require_only_our_fonts(weasyprint.text.ffi)
    fetcher = LockedFetcher(assets)
    with _strict("style sheet", "correct the style sheet", fetcher):
        fonts, counters = FontConfiguration(), CounterStyle()
        parsed = weasyprint.CSS(string=css, url_fetcher=fetcher, font_config=fonts, counter_style=counters)
        return Stylesheet(parsed, fonts, counters)


def render_pdf(
    html: str,
    *,
    stylesheet: Stylesheet,
    assets: Mapping[str, Asset],
    folded: bool = False,
    find_outside: bool = False,
) -> RenderedPdf:
    """Lay out and write one document.

    Args:
        html: the whole document, with a language and a title; every address in it starts with `asset:`.
        stylesheet: how it looks.
        assets: the pictures it may name, each under its whole address, as in `asset:figures/ear-left.svg`.
        folded: whether the copy that is printed for folding is written too.
        find_outside: whether to look for text that reaches over the edge of its column or page.

    Raises:
        LeafletError: when anything in the document or its pictures is not understood, a character is in no font, an
            address is not among the assets, a picture has no text in its place, the title is missing, or the machine
            is not fit.

    """
    weasyprint = require_engine()
    from leaflets.render.accessible import finish  # noqa: PLC0415 # as in import_weasyprint
    from leaflets.render.folded import impose  # noqa: PLC0415 # as above

    fetcher = LockedFetcher(assets)
    with _strict("leaflet", "correct the template, its words or its pictures", fetcher):
        source = weasyprint.HTML(string=html, url_fetcher=fetcher)
        variant = {"pdf_variant": "pdf/ua-1"}
        document = source.render(
            stylesheets=[stylesheet.css],
            font_config=stylesheet.fonts,
            # The rendering adds WeasyPrint's own styles to the one it is given.
            counter_style=stylesheet.counters.copy(),
            **variant,
        )
        if not document.metadata.title:
            raise LeafletError.at("leaflet", "the document has no title", "give the layout a <title>")
        outside = texts_outside(document) if find_outside else ()
        pdf = document.write_pdf(finisher=finish, **variant)
        print_copy = document.write_pdf(finisher=impose) if folded else None
    first_pages = MappingProxyType(_first_pages(document))
    return RenderedPdf(pdf, len(document.pages), first_pages, outside=outside, folded=print_copy)


def _first_pages(document: Any) -> dict[str, int]:  # noqa: ANN401 # WeasyPrint ships no types
    first: dict[str, int] = {}
    for number, page in enumerate(document.pages, 1):
        for name in page.anchors:
            first.setdefault(name, number)
    return first


@cache
def require_engine() -> Any:  # noqa: ANN401 # WeasyPrint ships no types
    """Return WeasyPrint, ready to use. What was found fit is not looked at again, a fault is, at the next call.

    Raises:
        LeafletError: when the fonts, a library or the right version is missing, each with what to install.

    """
    isolate_fonts()
    require_supported_version()
    weasyprint, ffi = import_weasyprint()
    if ffi.harfbuzz_subset is None:
        raise LeafletError.at(
            "libharfbuzz-subset",
            "the library is missing, and each leaflet would take several times as long",
            INSTALL_SUBSETTER,
        )
    from leaflets.render.readable_text import install  # noqa: PLC0415 - WeasyPrint is imported late, and safely

    install()
    return weasyprint


def require_supported_version() -> str:
    """Return the version of WeasyPrint that is installed.

    Raises:
        LeafletError: when there is none, or one that the finishing of documents was not checked with.

    """
    try:
        found = version("weasyprint")
    except PackageNotFoundError as error:
        raise LeafletError.at("WeasyPrint", "it is not installed", INSTALL_WEASYPRINT) from error
    numbers = tuple(int(part) for part in found.split(".") if part.isdecimal())
    if not WEASYPRINT_FROM <= numbers < WEASYPRINT_BEFORE:
        raise LeafletError.at("WeasyPrint", f"version {found} was not checked", INSTALL_WEASYPRINT)
    return found


def import_weasyprint() -> tuple[Any, Any]:
    """Return WeasyPrint and its module of libraries, in silence, without a look at whether they are fit.

    Raises:
        LeafletError: when it, or a library that it cannot do without, is missing.

    """
    # A missing library makes WeasyPrint print a page of advice, or warn of the future: our own error says what to do.
    with redirect_stdout(StringIO()), warnings.catch_warnings(action="ignore"):
        try:
            # Only here, since it takes longer than all else that a command without a rendering does.
            import weasyprint  # noqa: PLC0415
            from weasyprint.text import ffi  # noqa: PLC0415
        except (ImportError, OSError) as error:
            raise LeafletError.at("WeasyPrint", f"it cannot be loaded: {error}", INSTALL_LIBRARIES) from error
    return weasyprint, ffi


def _require_only_our_fonts(ffi: Any) -> None:  # noqa: ANN401 # WeasyPrint ships no types
    fontconfig = ffi.fontconfig
    settings = fontconfig.FcInitLoadConfigAndFonts()
    seen = fontconfig.FcConfigGetFonts(settings, fontconfig.FcSetSystem).nfont
    fontconfig.FcConfigDestroy(settings)
    if seen != len(FONT_FILES):
        raise LeafletError.at(str(FONT_FOLDER), f"{seen} fonts can be read there, not {len(FONT_FILES)}", INSTALL_FONTS)


class _Collector(logging.Handler):
    """Keeps what WeasyPrint complains of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def _listen() -> Iterator[_Collector]:
    """Hear every complaint of WeasyPrint, whatever the program's settings of logging are, and print none."""
    logger, collector = logging.getLogger("weasyprint"), _Collector()
    level, propagate, disabled, disabled_below = (
        logger.level,
        logger.propagate,
        logger.disabled,
        logger.manager.disable,
    )
    logger.addHandler(collector)
    logging.disable(logging.NOTSET)
    logger.setLevel(logging.WARNING)
    logger.propagate = logger.disabled = False
    try:
        yield collector
    finally:
        logger.removeHandler(collector)
        logging.disable(disabled_below)
        logger.setLevel(level)
        logger.propagate, logger.disabled = propagate, disabled


@contextmanager
def _strict(place: str, hint: str, fetcher: LockedFetcher) -> Iterator[None]:
    """Turn every complaint of WeasyPrint, and every address that is not among the assets, into an error."""
    from weasyprint.urls import FatalURLFetchingError  # noqa: PLC0415 # as in import_weasyprint

    found: list[Problem] = []
    with _ONE_AT_A_TIME, _listen() as heard:
        try:
            yield
        except FatalURLFetchingError:
            # While it draws an SVG, WeasyPrint swallows even this error: the fetcher keeps all that it refused.
            assert fetcher.refused
        except LeafletError as error:
            found.extend(error.problems)
    refused = (
        Problem(
            place,
            f"'{address[:80]}' is not an asset that was handed over",
            did_you_mean(address, fetcher.assets),
        )
        for address in dict.fromkeys(fetcher.refused)
    )
    complaints = (Problem(place, message, hint) for message in dict.fromkeys(heard.messages))
    if problems := [*refused, *found, *complaints]:
        raise LeafletError(problems)
