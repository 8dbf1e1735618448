"""Who approved which words: the ledger of a clinic, a file of JSON lines that a person can read.

A line is only ever added. Each holds the words it is about and their hash, so that a line that was changed by hand is
found. Words are reviewed when their hash was approved, and nobody withdrew it; change a letter, and they are draft
again. Whoever translated words does not approve them.
"""

import datetime
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, get_args

from leaflets.catalogue import MessageKey, sign_off_hash
from leaflets.errors import LeafletError, Problem

FILE_NAME = "signoff.jsonl"

Act = Literal["translated", "approved", "withdrawn"]
_ACTS: tuple[Act, ...] = get_args(Act)
_FIELDS = ("act", "locale", "context", "source", "plural", "words", "hash", "who", "role", "when")


@dataclass(frozen=True)
class Entry:
    """One line of the ledger.

    Attributes:
        act: what was done with the words.
        locale: BCP 47.
        key: the message.
        words: the translation, one text for each plural form; empty for the source language itself.
        who: who did it.
        role: as what, such as "clinical lead".
        when: the moment, with its time zone.

    """

    act: Act
    locale: str
    key: MessageKey
    words: tuple[str, ...]
    who: str
    role: str
    when: datetime.datetime

    @property
    def hash(self) -> str:
        """What the sign-off stands for."""
        return sign_off_hash(self.locale, self.key, self.words)

    def as_json(self) -> str:
        """Return the line."""
        values = {
            "act": self.act,
            "locale": self.locale,
            **self.key._asdict(),
            "words": self.words,
            "hash": self.hash,
            "who": self.who,
            "role": self.role,
            "when": self.when.isoformat(timespec="seconds"),
        }
        return json.dumps({name: values[name] for name in _FIELDS}, ensure_ascii=False)


@dataclass(frozen=True)
class Ledger:
    """All lines of a clinic's ledger, in the order in which they were added."""

    place: str
    entries: tuple[Entry, ...]

    @property
    def approved(self) -> frozenset[str]:
        """Hashes of the words that are approved now."""
        approved: set[str] = set()
        for entry in self.entries:
            if entry.act == "approved":
                approved.add(entry.hash)
            elif entry.act == "withdrawn":
                approved.discard(entry.hash)
        return frozenset(approved)

    def translators_of(self, words_hash: str) -> frozenset[str]:
        """Return who translated words, as the ledger has it."""
        return frozenset(one.who for one in self.entries if one.act == "translated" and one.hash == words_hash)

    def require_another(self, entry: Entry, translator: str) -> None:
        """Refuse an approval by whoever translated the words. `translator`: as the catalogue names them; may be empty.

        Raises:
            LeafletError: it is the same person.

        """
        translators = {_folded(one) for one in (*self.translators_of(entry.hash), translator) if one.strip()}
        if entry.act == "approved" and _folded(entry.who) in translators:
            message = f"'{entry.who}' translated these words, and cannot approve them"
            raise LeafletError.at(self.place, message, "let another person review them")


def load_ledger(folder: Path) -> Ledger:
    """Read the ledger of a clinic's folder; one that is not there is empty.

    Raises:
        LeafletError: with every line that is none, or that was changed since it was written.

    """
    path = folder / FILE_NAME
    if not path.is_file():
        return Ledger(str(path), ())
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise LeafletError.at(str(path), f"cannot be read: {error}", "restore the file from a copy") from None
    entries: list[Entry] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.strip():
            try:
                entries.append(_parse_entry(line))
            except (ValueError, KeyError, TypeError) as error:
                hint = "restore the line from a copy: a ledger is only ever added to"
                problems.append(Problem(f"{path}:{number}", f"is no line of a ledger: {error}", hint))
    if problems:
        raise LeafletError(problems)
    return Ledger(str(path), tuple(entries))


def add_to_ledger(folder: Path, entries: Sequence[Entry]) -> None:
    """Add lines to the ledger of a clinic's folder; nothing that stands in it is touched.

    Raises:
        LeafletError: it cannot be written.

    """
    path = folder / FILE_NAME
    try:
        with path.open("a", encoding="utf-8") as file:
            file.writelines(f"{entry.as_json()}\n" for entry in entries)
    except OSError as error:
        raise LeafletError.at(str(path), f"cannot be written: {error.strerror}", "give a folder that can be") from None


def _parse_entry(line: str) -> Entry:
    values: dict[str, Any] = json.loads(line)
    if not isinstance(values, dict):
        raise TypeError("it is no object")
    if missing := [name for name in _FIELDS if name not in values]:
        raise ValueError(f"it has no {', '.join(missing)}")
    if values["act"] not in _ACTS:
        raise ValueError(f"'{values['act']}' is no act ({', '.join(_ACTS)})")
    for name in ("locale", "context", "source", "who", "role", "when"):
        if not isinstance(values[name], str) or not values[name].strip():
            raise ValueError(f"'{name}' is empty")
    entry = Entry(
        act=values["act"],
        locale=values["locale"],
        key=MessageKey(values["context"], values["source"], values["plural"]),
        words=tuple(values["words"]),
        who=values["who"],
        role=values["role"],
        when=datetime.datetime.fromisoformat(values["when"]),
    )
    if entry.hash != values["hash"]:
        raise ValueError("its words are not those that were signed: the hash does not fit")
    return entry


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()
