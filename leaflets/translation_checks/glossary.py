"""The glossary of a locale: its terms, and the words that say left, right, both and no. One TOML file a locale.

A form is the word or words that may stand for a term in a sentence, in any case; a `*` at the end of a word stands for
any ending.
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from leaflets.errors import LeafletError, Problem
from leaflets.rules.toml import TableReader, TomlFile

FEWEST_TERMS = 60

_PARTS = ("language", "words")
_LANGUAGE_KEYS = frozenset({"name", "register", "quotes"})
_WORD_KEYS = frozenset({"left", "right", "both", "negation", "foreign", "unchanged"})
_TERM_KEYS = frozenset({"source", "translation", "forms", "note"})
_SIDES = ("left", "right", "both")
_MARKS_IN_WORDS = "\u064b-\u065f\u0670\u0900-\u0963\u0966-\u0dff"  # vowel signs, which are no letters to Python
_APOSTROPHES = str.maketrans(dict.fromkeys("\u2019\u02bc\uff07", "'"))


@dataclass(frozen=True)
class Term:
    """One term.

    Attributes:
        source: in the English words; its regular plural is found by itself.
        translation: as a dictionary lists it.
        forms: what may stand for it in a sentence.
        note: for translators; empty: none.

    """

    source: str
    translation: str
    forms: tuple[str, ...]
    note: str


@dataclass(frozen=True)
class Glossary:
    """The glossary of a locale.

    Attributes:
        place: the file's path.
        register: how the reader is addressed, for translators.
        quotes: the opening and closing quotation mark.
        left: forms that say "left"; right, both and negation likewise.
        foreign: words in Latin letters that a text in another script may hold.
        unchanged: messages that are rightly the same as in English.

    """

    place: str
    register: str
    quotes: tuple[str, str]
    left: tuple[str, ...]
    right: tuple[str, ...]
    both: tuple[str, ...]
    negation: tuple[str, ...]
    foreign: frozenset[str]
    unchanged: frozenset[str]
    terms: tuple[Term, ...]

    def side(self, name: str) -> tuple[str, ...]:
        """Return the forms that say a side: "left", "right" or "both"."""
        return {"left": self.left, "right": self.right, "both": self.both}[name]


def parse_glossary(place: str, text: str) -> Glossary:
    """Return the glossary of a file's text.

    Raises:
        LeafletError: with everything that is wrong in it.

    """
    file = TomlFile.parse(place, text)
    missing = [part for part in _PARTS if not isinstance(file.data.get(part), dict)]
    if missing:
        raise LeafletError(
            Problem(f"{place}:1 [{part}]", f"has no [{part}]", f"write [{part}] and its keys below") for part in missing
        )
    problems: list[Problem] = []
    language = TableReader(file, ("language",), file.data["language"], _LANGUAGE_KEYS, problems)
    words = TableReader(file, ("words",), file.data["words"], _WORD_KEYS, problems)
    problems += [
        Problem(file.place(key), "is not a part of a glossary", "a glossary has [language], [words] and [[term]]")
        for key in file.data.keys() - {*_PARTS, "term"}
    ]
    language.text("name")
    register, quotes = language.text("register"), _texts(language, "quotes")
    lists = {key: _texts(words, key) for key in _WORD_KEYS}
    for key in (*_SIDES, "negation"):
        if not lists[key]:
            words.fault((key,), f"names no form of '{key}'", "list the words that say it, * for any ending")
    if len(quotes) != 2:
        language.fault(("quotes",), "quotes are two marks", 'write the opening and closing mark, as ["„", "”"]')
    terms = tuple(_terms(file, problems))
    if problems or register is None:
        raise LeafletError(problems)
    return Glossary(
        place=place,
        register=register,
        quotes=(quotes[0], quotes[1]),
        left=lists["left"],
        right=lists["right"],
        both=lists["both"],
        negation=lists["negation"],
        foreign=frozenset(lists["foreign"]),
        unchanged=frozenset(lists["unchanged"]),
        terms=terms,
    )


def says(text: str, forms: tuple[str, ...]) -> bool:
    """Whether a text holds any of the forms, in any case.

    >>> says("Lewe ucho.", ("lew*",)), says("Ulewa.", ("lew*",)), says("lewego ucha", ("lew* uch*",))
    (True, False, True)

    """
    small = _small(text)
    return any(_pattern(form).search(small) for form in forms)


def _texts(reader: TableReader, key: str) -> tuple[str, ...]:
    value = reader.get(key)
    if value is None:
        return ()
    if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
        reader.fault((key,), f"{key} is not a list of words", 'write a list, as ["lew*"]')
        return ()
    return tuple(value)


def _terms(file: TomlFile, problems: list[Problem]) -> list[Term]:
    found: list[Term] = []
    listed = file.data.get("term", [])
    if not isinstance(listed, list):
        problems.append(Problem(file.place("term"), "is not a list of terms", "write a [[term]] for each"))
        return found
    for place, entry in enumerate(listed):
        reader = TableReader(file, ("term", place), entry, _TERM_KEYS, problems)
        if not isinstance(entry, dict):
            continue
        source, translation, forms = reader.text("source"), reader.text("translation"), _texts(reader, "forms")
        if not forms:
            reader.fault(("forms",), "has no forms", "list the words that may stand for it")
        if source is not None and translation is not None and forms:
            note = reader.get("note")
            found.append(Term(source, translation, forms, note if isinstance(note, str) else ""))
    return found


def _small(text: str) -> str:
    return unicodedata.normalize("NFC", text).translate(_APOSTROPHES).lower()


@lru_cache(maxsize=4096)
def _pattern(form: str) -> re.Pattern[str]:
    letter = rf"[\w{_MARKS_IN_WORDS}]"
    words = [
        re.escape(word[:-1]) + rf"{letter}*" if word.endswith("*") else re.escape(word) for word in _small(form).split()
    ]
    return re.compile(rf"(?<!{letter})" + r"[\s\u200c\u2010\u2011-]+".join(words) + rf"(?!{letter})")
