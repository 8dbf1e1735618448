r"""The grammar of .po text, held strictly: Babel's reader passes over what gettext refuses, and drops or changes words.

Source: GNU gettext manual, "The Format of PO Files"; a test holds that its own msgfmt refuses the same. Stricter than
gettext in one thing: of escapes only those of \\, \", \n, \r and \t are known, as Babel reads any other as its letter.
"""

import re
from dataclasses import dataclass, field
from functools import lru_cache

from leaflets.errors import LeafletError

_KEYWORD = re.compile(r"(msgctxt|msgid_plural|msgid|msgstr)(\[[^\]]*\])?(?=[\s\"]|$)\s*")
_STRINGS = re.compile(r'(?:"(?:[^"\\]|\\.)*"\s*)+')
_STRING = re.compile(r'"((?:[^"\\]|\\.)*)"')
_UNKNOWN_ESCAPE = re.compile(r'\\[^\\"nrt]')
_MEND = "mend the line, or take the file anew"


@dataclass
class _Entry:
    """One message as it is read: the line of its first word, its raw strings by keyword."""

    place: str
    line: int = 0
    strings: dict[str, str] = field(default_factory=dict)
    last: str = ""

    @property
    def key(self) -> tuple[str | None, str]:
        return self.strings.get("msgctxt"), self.strings["msgid"]

    @property
    def is_begun(self) -> bool:
        return bool(self.strings)

    @property
    def has_words(self) -> bool:
        return self.last.startswith("msgstr")


@lru_cache(maxsize=4)  # a header is looked at, then the messages are read: of the project's file and a clinic's
def strict_po_text(text: str, place: str) -> str:
    """Return the text with the strings of each line as one, as Babel expects; lines keep their numbers.

    Raises:
        LeafletError: it is no .po text, at its first such line; it has no header, or a message twice.

    """
    lines = []
    entry = _Entry(place)
    seen: dict[tuple[str | None, str], int] = {}
    for number, line in enumerate(text.split("\n"), 1):
        bare = line.strip()
        if not bare or bare.startswith("#"):
            lines.append(line)
            continue
        keyword = _KEYWORD.match(bare)
        if keyword is not None and _starts_anew(entry, keyword):
            _close(entry, seen)
            entry = _Entry(place, number)
        lines.append(_read(entry, bare, keyword, number))
    if entry.is_begun:
        _close(entry, seen)
    if (None, "") not in seen:
        raise _fault(place, None, "it has no header", "start it with an empty msgid, or run: leaflets words update")
    return "\n".join(lines)


def _starts_anew(entry: _Entry, keyword: re.Match[str]) -> bool:
    """Whether a keyword begins the next message: a context, or a source after words or after another source."""
    if keyword[1] == "msgctxt":
        return entry.is_begun
    return keyword[1] == "msgid" and "msgid" in entry.strings


def _read(entry: _Entry, bare: str, keyword: re.Match[str] | None, number: int) -> str:
    """Add one line to the message, and return it with one string."""
    written = bare if keyword is None else bare[keyword.end() :]
    if not _STRINGS.fullmatch(written):
        if keyword is None and not written.startswith('"'):
            raise _fault(entry.place, number, "it starts with no word that is known", _MEND)
        raise _fault(entry.place, number, "its words do not stand in one pair of quotation marks", _MEND)
    raw = "".join(_STRING.findall(written))
    if escape := _UNKNOWN_ESCAPE.search(raw.replace("\\\\", "")):
        hint = 'use \\\\ \\" \\n \\r \\t alone'
        raise _fault(entry.place, number, f"'{escape[0]}' is not known", hint)
    if keyword is None:
        if not entry.last:
            raise _fault(entry.place, number, "words stand before any msgid", _MEND)
        entry.strings[entry.last] += raw
        return f'"{raw}"'
    name = keyword[1] + (keyword[2] or "")
    if said := _out_of_order(entry, keyword[1], keyword[2]):
        raise _fault(entry.place, number, said, _MEND)
    entry.line = entry.line or number
    entry.strings[name] = raw
    entry.last = name
    return f'{name} "{raw}"'


def _out_of_order(entry: _Entry, word: str, index: str | None) -> str:
    """Return what is wrong with a keyword where it stands; empty: nothing."""
    if word == "msgstr":
        return _words_out_of_order(entry, index)
    if index is not None:
        return f"{word} takes no number"
    wanted = {"msgctxt": "", "msgid": "msgctxt" if "msgctxt" in entry.strings else "", "msgid_plural": "msgid"}
    return "" if entry.last == wanted[word] else f"{word} stands where none can be"


def _words_out_of_order(entry: _Entry, index: str | None) -> str:
    if "msgid" not in entry.strings:
        return "it translates nothing: no msgid is before it"
    if "msgid_plural" not in entry.strings:
        if index is not None:
            return "its message has no msgid_plural, and so no plural forms"
        return "a message has two translations" if entry.has_words else ""
    given = sum(name.startswith("msgstr") for name in entry.strings)
    if index is None:
        return "a counted message has one msgstr[…] for each plural form"
    return "" if index == f"[{given}]" else f"its plural form is not the next, [{given}]"


def _close(entry: _Entry, seen: dict[tuple[str | None, str], int]) -> None:
    """Take a message as whole.

    Raises:
        LeafletError: it is not whole, or was there before.

    """
    line = entry.line
    if "msgid" not in entry.strings or not entry.has_words:
        raise _fault(entry.place, line, "a message has no msgid or no msgstr", _MEND)
    line += "msgctxt" in entry.strings
    first = seen.setdefault(entry.key, line)
    if first != line:
        raise _fault(entry.place, line, f"the message is there already, in line {first}", "take one of the two away")


def _fault(place: str, line: int | None, said: str, hint: str) -> LeafletError:
    return LeafletError.at(place if line is None else f"{place}:{line}", f"is not a .po file: {said}", hint)
