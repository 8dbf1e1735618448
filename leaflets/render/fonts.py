"""The fonts of the leaflets: our own folder, and never a font of the system.

A leaflet has to look the same on every machine, and a character that our fonts lack has to be found before it is
printed as an empty box. Both need a known set of fonts. They are static files of the Noto family, regular and bold,
copied once from Debian's package `fonts-noto-core`:

    apt-get install fonts-noto-core
    python -m leaflets.render.fonts
"""

import atexit
import os
import shutil
import sys
import tempfile
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from xml.sax.saxutils import escape

from leaflets.errors import LeafletError, Problem
from leaflets.render import INSTALL_FONTS

FONT_FOLDER = Path(__file__).parent / "fonts"
"""Where the fonts stand that leaflets are printed with; not kept under version control."""

FAMILIES = (
    "NotoSans",
    "NotoNaskhArabic",
    "NotoNastaliqUrdu",
    "NotoSansDevanagari",
    "NotoSansGurmukhi",
    "NotoSansBengali",
    "NotoSansGujarati",
)
FONT_FILES = tuple(f"{family}-{weight}.ttf" for family in FAMILIES for weight in ("Regular", "Bold"))
LICENCE_FILE = "LICENCE.txt"
"""The licence of the fonts (SIL Open Font Licence 1.1), which has to travel with them."""

DEBIAN_FONTS = Path("/usr/share/fonts/truetype/noto")
DEBIAN_LICENCE = Path("/usr/share/doc/fonts-noto-core/copyright")

# Characters that show nothing by themselves: the tab and line ends, the soft hyphen, the joiners, the marks and the
# isolates of direction. A font need not have them.
_INVISIBLE = frozenset(
    [0x09, 0x0A, 0x0C, 0x0D, 0xAD, *range(0x200B, 0x2010), 0x2060, *range(0x2066, 0x206A)],
)

# A family that is not ours must not pick one of our scripts by chance: Noto Sans stands in, last in the list. The bold
# Nastaliq says of itself that it is regular, and would never be taken.
_FONTCONFIG = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig>
  <dir>{fonts}</dir>
  <cachedir>{cache}</cachedir>
  <match target="scan">
    <test name="file" compare="contains"><string>NotoNastaliqUrdu-Bold</string></test>
    <edit name="weight" mode="assign"><const>bold</const></edit>
  </match>
  <match target="pattern">
    <edit name="family" mode="append_last" binding="weak"><string>Noto Sans</string></edit>
  </match>
</fontconfig>
"""

# Any of these would make fontconfig read other files, or the same files elsewhere.
_OTHER_FONTCONFIG_SETTINGS = ("FONTCONFIG_PATH", "FONTCONFIG_SYSROOT", "FC_LANG")


def install_fonts(
    source: Path = DEBIAN_FONTS, *, licence: Path = DEBIAN_LICENCE, folder: Path | None = None
) -> tuple[Path, ...]:
    """Copy the fonts and their licence, and return what now stands in the folder.

    Nothing is copied unless all is there, and each file appears whole or not at all.

    Args:
        source: the folder that holds the font files.
        licence: the file with the licence of the fonts.
        folder: where the copies go; None for `FONT_FOLDER`.

    Raises:
        LeafletError: with one problem for each file that is missing, or when the folder cannot be written.

    """
    folder = FONT_FOLDER if folder is None else folder
    copies = {source / name: folder / name for name in FONT_FILES} | {licence: folder / LICENCE_FILE}
    missing = [file for file in copies if not file.is_file()]
    if missing:
        hint = "run: apt-get install fonts-noto-core"
        raise LeafletError(Problem(str(file), "this font file is missing", hint) for file in missing)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for original, copy in copies.items():
            _copy_whole(original, copy)
    except OSError as error:
        raise LeafletError.at(
            str(folder),
            f"the fonts cannot be written: {error.strerror}",
            "run the command as the user who installed leaflets",
        ) from error
    return tuple(copies.values())


def _copy_whole(original: Path, copy: Path) -> None:
    beside = copy.with_name(f".{copy.name}.{os.getpid()}")
    try:
        shutil.copyfile(original, beside)
        beside.replace(copy)
    finally:
        beside.unlink(missing_ok=True)


def missing_fonts() -> tuple[str, ...]:
    """Return the names of the font files that `FONT_FOLDER` lacks; empty when all are there."""
    return tuple(name for name in FONT_FILES if not (FONT_FOLDER / name).is_file())


def require_fonts() -> None:
    """Do nothing when every font is there.

    Raises:
        LeafletError: when a font is missing. WeasyPrint ends the whole process when it finds no font at all.

    """
    if missing := missing_fonts():
        raise LeafletError.at(str(FONT_FOLDER), f"fonts are missing: {', '.join(missing)}", INSTALL_FONTS)


def isolate_fonts() -> None:
    """Let this process see the fonts of `FONT_FOLDER` and no other; a second call changes nothing.

    Has to run before WeasyPrint is imported, and before each new font configuration: both read the settings anew.

    Raises:
        LeafletError: when a font is missing.

    """
    require_fonts()
    for name in _OTHER_FONTCONFIG_SETTINGS:
        os.environ.pop(name, None)
    file = _fontconfig_file(os.getpid(), FONT_FOLDER)
    if not file.is_file():
        # Systems clear their folder for temporary files, under the feet of a program that runs for weeks.
        _fontconfig_file.cache_clear()
        file = _fontconfig_file(os.getpid(), FONT_FOLDER)
    os.environ["FONTCONFIG_FILE"] = str(file)


@cache
def _fontconfig_file(process: int, fonts: Path) -> Path:
    """Write the settings for fontconfig into a folder that only this process uses, gone when it ends."""
    folder = Path(tempfile.mkdtemp(prefix="leaflets-fontconfig-"))
    atexit.register(_remove_own, process, folder)
    file = folder / "fonts.conf"
    text = _FONTCONFIG.format(fonts=escape(str(fonts)), cache=escape(str(folder / "cache")))
    file.write_text(text, encoding="utf-8")
    return file


def _remove_own(process: int, folder: Path) -> None:
    # A forked child inherits this duty, but the folder still belongs to its parent.
    if os.getpid() == process:
        shutil.rmtree(folder, ignore_errors=True)


def missing_characters(text: str) -> tuple[str, ...]:
    """Return the characters of a text that no font of ours can print, each once, in the order of their code points.

    Characters that show nothing (line ends, joiners, marks of direction, the soft hyphen) are never missing.

    Raises:
        LeafletError: when a font is missing.

    >>> missing_characters("Ear drops: 3 drops, 4 times a day")
    ()

    """
    wanted = {ord(character) for character in text} - _INVISIBLE
    return tuple(chr(point) for point in sorted(wanted - _printable(FONT_FOLDER)))


@cache
def _printable(fonts: Path) -> frozenset[int]:
    # Only a caller who asks about characters pays for the import.
    from fontTools.ttLib import TTFont  # noqa: PLC0415

    require_fonts()
    points: set[int] = set()
    for family in FAMILIES:
        weights: list[set[int]] = []
        for weight in ("Regular", "Bold"):
            with TTFont(fonts / f"{family}-{weight}.ttf", lazy=True) as font:
                weights.append(set(font.getBestCmap()))
        points |= set.intersection(*weights)
    return frozenset(points)


def main(arguments: Sequence[str]) -> int:
    """Install the fonts, from the named folder or from Debian's; return 0, or 2 when files are missing."""
    try:
        installed = install_fonts(*(Path(argument) for argument in arguments[:1]))
    except LeafletError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    sys.stdout.write(f"{len(installed)} files in {FONT_FOLDER}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
