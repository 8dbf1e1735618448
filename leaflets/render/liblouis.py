"""Print to braille cells by liblouis, the library of braille translation: its one home here.

It is called in the process (ctypes), not by the `lou_translate` command: a leaflet is some hundred short pieces, and
only the library says which print character a cell comes from. Debian's Python binding is for Debian's own Python and
is not seen in a virtual environment, and there is none on PyPI. liblouis is not safe for threads: processes only.
"""

import ctypes
import ctypes.util
from dataclasses import dataclass
from functools import cache

from leaflets.errors import LeafletError
from leaflets.render import INSTALL_BRAILLE

LIBRARY_NAMES = ("louis", "liblouis.so.20", "liblouis.20.dylib", "liblouis.dll")
"""Names to try: as the system knows it, then as files. 20: the interface that the calls below are written for."""

_PLACE = "this machine [liblouis]"
_DOTS, _UNICODE, _LEAVE_OUT_UNDEFINED = 4, 64, 128  # modes of the library: dotsIO, ucBrl, noUndefined
_LOG_NOTHING = 60000
_FIRST_CELL = 0x2800
_CELLS_OF_SIX_DOTS = range(_FIRST_CELL, _FIRST_CELL + 64)
_CELLS_A_CHARACTER = 16


class UnwritableError(Exception):
    """A table does not write a text.

    `characters`: those that it does not know, in order. None at all: it writes the text in cells of eight dots.
    """

    def __init__(self, characters: tuple[str, ...]) -> None:
        self.characters = characters
        super().__init__(", ".join(f"U+{ord(one):04X}" for one in characters) or "cells of eight dots")


@dataclass(frozen=True)
class Cells:
    """Braille: a cell for each element, as Unicode braille patterns, and the index of the print that it comes from."""

    cells: str
    origins: tuple[int, ...]


@dataclass(frozen=True)
class _Library:
    calls: ctypes.CDLL
    character_bytes: int
    encoding: str


def version() -> str:
    """Return the version of the library that is installed.

    Raises:
        LeafletError: it is not.

    """
    told: bytes = _library().calls.lou_version()
    return told.decode("ascii")


def translate(text: str, table: str, rules: tuple[str, ...] = ()) -> Cells:
    """Return a text in the braille of a table, by the file name that liblouis has for it.

    `rules`: lines that the table lacks, in the language of tables. The library takes them before a table is first used
    and not later, so that each use of a table must name the same.

    Raises:
        LeafletError: liblouis or the table is not installed, or the table takes no such rule.
        UnwritableError: the table does not know a character, or is not one of six dots.

    """
    _prepare(table, rules)
    if beyond := tuple(dict.fromkeys(one for one in text if ord(one) > 0xFFFF)):
        raise UnwritableError(beyond)
    written = _translated(text, table, _DOTS | _UNICODE)
    # An unknown character comes back as its number, spelt out, and with this mode not at all.
    if _translated(text, table, _DOTS | _UNICODE | _LEAVE_OUT_UNDEFINED) != written:
        raise UnwritableError(tuple(one for one in dict.fromkeys(text) if not _knows(one, table)) or tuple(text))
    if any(ord(cell) not in _CELLS_OF_SIX_DOTS for cell in written.cells):
        raise UnwritableError(())
    return written


@cache
def require_table(table: str) -> None:
    """Raise an error if liblouis or a table is not installed, or the table is broken."""
    if not _library().calls.lou_checkTable(table.encode("ascii")):
        raise LeafletError.at(_PLACE, f"liblouis {version()} has no table {table}", INSTALL_BRAILLE)


@cache
def _prepare(table: str, rules: tuple[str, ...]) -> None:
    add = _library().calls.lou_compileString
    refused = [rule for rule in rules if not add(table.encode("ascii"), rule.encode("ascii"))]
    require_table(table)
    if refused:
        message = f"liblouis {version()} does not take the rule '{refused[0]}' into {table}"
        raise LeafletError.at(_PLACE, message, INSTALL_BRAILLE)


@cache
def _knows(character: str, table: str) -> bool:
    modes = _DOTS | _UNICODE
    return _translated(character, table, modes) == _translated(character, table, modes | _LEAVE_OUT_UNDEFINED)


def _translated(text: str, table: str, mode: int) -> Cells:
    library = _library()
    print_bytes = text.encode(library.encoding)
    room = len(text) * _CELLS_A_CHARACTER + _CELLS_A_CHARACTER
    read, wrote = ctypes.c_int(len(text)), ctypes.c_int(room)
    cells = ctypes.create_string_buffer(room * library.character_bytes)
    origins = (ctypes.c_int * room)()
    done = library.calls.lou_translate(
        table.encode("ascii"),
        ctypes.create_string_buffer(print_bytes),
        ctypes.byref(read),
        cells,
        ctypes.byref(wrote),
        None,
        None,
        (ctypes.c_int * (len(text) + 1))(),
        origins,
        None,
        mode,
    )
    if not done or read.value != len(text):
        raise LeafletError.at(_PLACE, f"liblouis {version()} stopped within a text ({table})", INSTALL_BRAILLE)
    written = cells.raw[: wrote.value * library.character_bytes].decode(library.encoding)
    return Cells(written, tuple(origins[: wrote.value]))


@cache
def _library() -> _Library:
    calls = _load()
    if calls is None:
        raise LeafletError.at(_PLACE, "liblouis, which braille is made with, is not installed", INSTALL_BRAILLE)
    calls.lou_version.restype = ctypes.c_char_p
    calls.lou_setLogLevel(_LOG_NOTHING)  # what it has to say comes as an error of ours
    character_bytes = int(calls.lou_charSize())
    return _Library(calls, character_bytes, "utf-16-le" if character_bytes == 2 else "utf-32-le")


def _load() -> ctypes.CDLL | None:
    """Return the first library that loads, under its name or under the file that the system knows for it."""
    for name in LIBRARY_NAMES:
        for file in (ctypes.util.find_library(name), name):
            if file is not None:
                try:
                    return ctypes.CDLL(file)
                except OSError:
                    continue
    return None
