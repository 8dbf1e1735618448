"""What makes a text hard, so that a writer can act on it: one kind of trouble a module, with words as data.

Kinds that need to know words are for English alone. In every other language only those run that need none: long
units, brackets and slashes, capitals, and the numbers; `LANGUAGES` of each module says which.
"""

from collections.abc import Mapping, Sequence
from types import ModuleType

from leaflets.readability.trouble import (
    abbreviation,
    brackets,
    capitals,
    double_negation,
    hard_word,
    long_unit,
    number_trouble,
    passive,
    two_names,
)
from leaflets.readability.trouble.reading import LONGEST_UNIT_WORDS, NO_STEMS, Trouble, read, stems_of

__all__ = ["KINDS", "LONGEST_UNIT_WORDS", "Trouble", "find_trouble", "stems_of"]

KINDS: tuple[ModuleType, ...] = (
    long_unit,
    hard_word,
    two_names,
    passive,
    double_negation,
    brackets,
    number_trouble,
    capitals,
    abbreviation,
)
"""Every kind; each has CODE, LANGUAGES (None: every language), find(reading), GOOD and BAD."""


def find_trouble(
    units: Sequence[str],
    language: str,
    *,
    known_terms: frozenset[str] = frozenset(),
    longest_unit_words: int | None = LONGEST_UNIT_WORDS,
    stems: Mapping[int, int] = NO_STEMS,
) -> tuple[Trouble, ...]:
    """Return what makes a text hard, worst first, then in the order of the text.

    `units` are the sentences and list items, as for `grade_units`; `language` is a BCP 47 tag; `known_terms` are terms
    that a glossary explains, in any case; `longest_unit_words`, at least 1, is the limit of the reader and format
    (`leaflets.readability.targets`), None: none is known for the language; `stems` are as `stems_of` returns them.

    >>> [(trouble.code, trouble.words) for trouble in find_trouble(["Do not commence the drops."], "en-GB")]
    [('READ11', 'commence')]

    """
    reading = read(units, language, known_terms=known_terms, longest_unit_words=longest_unit_words, stems=stems)
    found = [
        trouble
        for kind in KINDS
        if kind.LANGUAGES is None or reading.language in kind.LANGUAGES
        for trouble in kind.find(reading)
    ]
    return tuple(sorted(found, key=lambda one: (-one.weight, one.unit, one.start, one.code)))
