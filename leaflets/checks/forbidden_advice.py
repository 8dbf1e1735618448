"""SAFE05: advice or a promise that no leaflet may give.

What: words such as a syringe, candle, swab, aspirin, antibiotic, daily oil, or a promise of a cure, in a block that
does not warn against them. The words, the blocks that warn, and the sources are in forbidden_advice.toml.
Why: words change often and by many hands, a clinic's own among them; what must never be advised does not.
Source: NICE NG98 1.2, NG91, NG233; British Society of Audiology 2021; AAO-HNSF 2017 Table 2 and statement 5B; NHS ear
infections; each entry names its own.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from leaflets.checks.changes import block_added
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding, Unit

CODE = "SAFE05"
DATA_FILE = "leaflets/checks/forbidden_advice.toml"

_SOURCE_LANGUAGE = "en"


@dataclass(frozen=True)
class ForbiddenAdvice:
    """One kind of advice that is forbidden, as in forbidden_advice.toml.

    Attributes:
        id: `language.name`, for messages.
        words: matches the words in a sentence.
        stems: the start of each of the words, in small letters: where a text holds none, nothing can match.
        may_stand_in: blocks that warn against it.
        only_in: the only blocks in which it is looked for; empty: everywhere.
        together_with: matches a word that must stand beside them for the advice to be forbidden; None: none need.
        only_with: matches a word that makes an allowed sentence a warning; None: none is asked for.
        because: what it would do.
        source: where that comes from.

    """

    id: str
    words: re.Pattern[str]
    stems: frozenset[str]
    may_stand_in: frozenset[str]
    only_in: frozenset[str]
    together_with: re.Pattern[str] | None
    only_with: re.Pattern[str] | None
    because: str
    source: str

    def stands_in(self, text: str) -> bool:
        """Return whether the words stand anywhere in a text in small letters: a cheap look before each sentence."""
        return any(stem in text for stem in self.stems) and self.words.search(text) is not None

    def found_in(self, sentence: str, block_id: str) -> str | None:
        """Return the forbidden words of a sentence; None: it may stand in this block."""
        if self.only_in and block_id not in self.only_in:
            return None
        found = self.words.search(sentence)
        if found is None or (self.together_with is not None and not self.together_with.search(sentence)):
            return None
        warned = self.only_with is None or self.only_with.search(sentence) is not None
        return None if block_id in self.may_stand_in and warned else found[0]


@cache
def forbidden_advice() -> dict[str, tuple[ForbiddenAdvice, ...]]:
    """Return what is forbidden, by language."""
    text = resources.files("leaflets.checks").joinpath("forbidden_advice.toml").read_text("utf-8")
    return {
        language: tuple(_parse(f"{language}.{name}", entry) for name, entry in entries.items())
        for language, entries in tomllib.loads(text).items()
    }


def _parse(name: str, entry: dict[str, Any]) -> ForbiddenAdvice:
    return ForbiddenAdvice(
        id=name,
        words=_any_of(entry["words"]),
        stems=frozenset(word.split()[0].lower() for word in entry["words"]),
        may_stand_in=frozenset(entry["may_stand_in"]),
        only_in=frozenset(entry.get("only_in", ())),
        together_with=_any_of(entry["together_with"]) if "together_with" in entry else None,
        only_with=_any_of(entry["only_with"]) if "only_with" in entry else None,
        because=entry["because"],
        source=entry["source"],
    )


def _any_of(words: list[str]) -> re.Pattern[str]:
    """Return a pattern for any of the whole words or phrases, plural or not; a sign such as ® may follow a letter."""
    longest_first = sorted(words, key=len, reverse=True)
    whole = [re.escape(word).replace(r"\ ", r"\s+") for word in longest_first if word[0].isalnum()]
    signs = [re.escape(word) for word in longest_first if not word[0].isalnum()]
    return re.compile(
        "|".join([*([rf"\b(?:{'|'.join(whole)})(?:e?s)?(?!\w)"] if whole else []), *signs]), re.IGNORECASE
    )


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find forbidden advice, sentence by sentence."""
    sentences = list(_sentences(evidence))
    everything = "\n".join(unit.text for unit, _ in sentences).lower()
    possible = {
        language: [entry for entry in entries if entry.stands_in(everything)]
        for language, entries in forbidden_advice().items()
    }
    for unit, language in sentences:
        for forbidden in possible[language]:
            words = forbidden.found_in(unit.text, unit.block)
            if words is not None:
                place = evidence.layout_place if unit.block not in evidence.block_words else evidence.place(unit.block)
                message = f"'{words}' stands in “{unit.text}”: {forbidden.because}"
                hint = f"write it another way; see [{forbidden.id}] in {DATA_FILE}"
                yield Finding(CODE, "stop", place, message, hint)


def _sentences(evidence: Evidence) -> Iterator[tuple[Unit, str]]:
    """Return what the reader reads, with the language of the list to hold it against.

    A language that has no list of its own is held against by the source of each of its messages.
    """
    leaflet = evidence.leaflet
    language = leaflet.language.replace("_", "-").split("-")[0]
    if language in forbidden_advice():
        for unit in (*evidence.units_outside_blocks(), *(unit for block in leaflet.blocks for unit in block.units)):
            yield unit, language
    else:
        for message in leaflet.messages:
            yield Unit("sentence", message.source, message.block), _SOURCE_LANGUAGE


def _said(sentence: str, block_id: str = "next/contact") -> Example:
    def change(evidence: Evidence) -> Evidence:
        if evidence.block(block_id) is None:
            return block_added(evidence, block_id, (), f"<p>{sentence}</p>")
        return evidence.with_block_text(block_id, "<h3>", f"<p>{sentence}</p><h3>")

    return Example(f"{block_id} says: {sentence}", change)


GOOD = (
    Example("a routine leaflet, which warns against cotton buds", lambda evidence: evidence),
    _said("Give no aspirin to anyone aged 15 or under.", "pain/relief"),
    _said("Do this 3 times a day.", "drops/course"),
    _said("Put a few drops of olive oil in your left ear on 1 day a week at most.", "drops/upkeep"),
    _said("Wear your earphones for part of each day only."),
)
BAD = (
    _said("Rinse your ear with a bulb syringe."),
    _said("Ear candles can help."),
    _said("Wipe the ear canal with a cotton bud.", "ears/nothing-inside"),
    _said("Take an aspirin.", "pain/relief"),
    _said("Take two tablets of ibuprofen.", "pain/relief"),
    _said("Ask for antibiotics."),
    _said("Pinch your nose and blow.", "eardrum/retracted"),
    _said("Use a drop of oil every day.", "drops/upkeep"),
    _said("A little olive oil each day keeps ears soft."),
    _said("You will hear better.", "after/what-to-expect"),
    _said("We guarantee it."),
    _said("Ask for the drops of Invented Name®."),
    Example(
        "the foot of the page promises a cure",
        lambda evidence: evidence.with_page(
            evidence.leaflet.html.replace("</body>", "<p>This will cure you.</p></body>"), evidence.leaflet.blocks
        ),
    ),
)
