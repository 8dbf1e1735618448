"""Is this machine fit to print leaflets? Every part that has to be there, what was found, and what to do.

Nothing here may fail because a part is missing: that is what is being asked.
"""

import ctypes
import ctypes.util
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from leaflets.errors import LeafletError
from leaflets.render import INSTALL_FONTS, INSTALL_LIBRARIES, INSTALL_SUBSETTER
from leaflets.render.fonts import FONT_FILES, FONT_FOLDER, missing_fonts
from leaflets.render.pdf import import_weasyprint, load_stylesheet, render_pdf, require_supported_version

OLDEST_PYTHON = (3, 11)

# The names that WeasyPrint tries, in its order: what it finds, we find.
PANGO_NAMES = (
    "libpango-1.0-0",
    "pango-1.0-0",
    "pango-1.0",
    "libpango-1.0.so.0",
    "libpango-1.0.dylib",
    "libpango-1.0-0.dll",
)
SUBSETTER_NAMES = (
    "libharfbuzz-subset-0",
    "harfbuzz-subset",
    "harfbuzz-subset-0.0",
    "libharfbuzz-subset.so.0",
    "libharfbuzz-subset.0.dylib",
    "libharfbuzz-subset-0.dll",
)

_TRIAL_PAGE = "<!doctype html><html lang='en'><head><title>Trial</title></head><body><p>Trial</p></body></html>"


@dataclass(frozen=True)
class Part:
    """One thing that printing needs.

    Attributes:
        name: what it is.
        ok: whether it is there and fit.
        found: what was found, or what is wrong.
        remedy: the command to run; empty when the part is fit.

    """

    name: str
    ok: bool
    found: str
    remedy: str


def ready() -> tuple[Part, ...]:
    """Look at every part, each on its own; when all are fit, print a trial page in memory as the last.

    Takes about a second, most of it for the import of WeasyPrint.
    """
    parts = (_python(), _weasyprint(), _pango(), _subsetter(), _fonts())
    # Without a font WeasyPrint would end the process: a trial is only safe once all else is there.
    return (*parts, _trial_page()) if all(part.ok for part in parts) else parts


def _python() -> Part:
    found = ".".join(str(number) for number in sys.version_info[:3])
    oldest = ".".join(str(number) for number in OLDEST_PYTHON)
    ok = sys.version_info[:2] >= OLDEST_PYTHON
    return Part("Python", ok, found, "" if ok else f"install Python {oldest} or newer")


def _weasyprint() -> Part:
    def look() -> str:
        found = require_supported_version()
        import_weasyprint()
        return found

    return _part("WeasyPrint", look)


def _pango() -> Part:
    library = _load(PANGO_NAMES)
    if library is None:
        return Part("Pango", ok=False, found="no such library", remedy=INSTALL_LIBRARIES)
    library.pango_version_string.restype = ctypes.c_char_p
    return Part("Pango", ok=True, found=library.pango_version_string().decode("ascii"), remedy="")


def _subsetter() -> Part:
    name = "libharfbuzz-subset"
    if _load(SUBSETTER_NAMES) is None:
        found = "no such library: each leaflet would take several times as long, so none is printed"
        return Part(name, ok=False, found=found, remedy=INSTALL_SUBSETTER)
    return Part(name, ok=True, found="present", remedy="")


def _fonts() -> Part:
    if missing := missing_fonts():
        return Part("Fonts", ok=False, found=f"missing: {', '.join(missing)}", remedy=INSTALL_FONTS)
    return Part("Fonts", ok=True, found=f"{len(FONT_FILES)} files in {FONT_FOLDER}", remedy="")


def _trial_page() -> Part:
    def look() -> str:
        document = render_pdf(_TRIAL_PAGE, stylesheet=load_stylesheet("", {}), assets={})
        return f"{document.pages} page, {len(document.pdf)} bytes"

    return _part("Trial page", look)


def _part(name: str, look: Callable[[], str]) -> Part:
    try:
        return Part(name, ok=True, found=look(), remedy="")
    except LeafletError as error:
        first = error.problems[0]
        return Part(name, ok=False, found=f"{first.place}: {first.message}", remedy=first.hint)


def _load(names: Iterable[str]) -> ctypes.CDLL | None:
    """Return the first library that loads, under its name or under the file that the system knows for it."""
    for name in names:
        for file in (name, ctypes.util.find_library(name)):
            if file is not None:
                try:
                    return ctypes.CDLL(file)
                except OSError:
                    continue
    return None
