"""READ10: a sentence or list item with too many words.

What: a unit with more words than the limit of the reader and format; a web address or a date counts its words too. An
item of a list is read with the words that open the list ("Call us if:"), and counted with them.
Runs in every language: what counts as a word is known for every script, and the caller gives the language's limit.
Why: a long sentence has to be read twice, and is not.
Source: EU readability guideline 2009 (from memory): 20 words a sentence; easy-to-read rules: 15 words.
"""

from collections.abc import Iterator

from leaflets.readability.trouble.reading import LONGEST_UNIT_WORDS, Example, Reading, Trouble

CODE = "READ10"
LANGUAGES: frozenset[str] | None = None


def find(reading: Reading) -> Iterator[Trouble]:
    """Find units that are too long."""
    limit = reading.longest_unit_words
    if limit is None:
        return
    for index, unit in enumerate(reading.units):
        own = len(unit.words)
        stem = reading.stems.get(index)
        length = own if stem is None else own + len(reading.units[stem].words)
        if own and length > limit:
            message = f"{length} words in one go" + ("" if stem is None else ", with those that open the list")
            hint = f"make two sentences of it: {limit} words are the most"
            weight = 2 + min(0.99, (length - limit) / 100)
            yield reading.trouble(CODE, index, unit.span(0, own - 1), message, hint, weight)


_ITEMS = ("bleeds.", " ".join(["ear"] * (LONGEST_UNIT_WORDS - 2)))

GOOD = (
    Example("as many words as may be", (" ".join(["ear"] * LONGEST_UNIT_WORDS),)),
    Example("many short sentences", ("Rest.", "Sip water.") * LONGEST_UNIT_WORDS),
    Example("an item with its opening", ("If it:", *_ITEMS), items=frozenset({1, 2})),
)
BAD = (
    Example("one word too many", (" ".join(["ear"] * (LONGEST_UNIT_WORDS + 1)),)),
    Example(
        "an item too long with its opening", ("Call us or come back if your ear:", *_ITEMS), items=frozenset({1, 2})
    ),
    Example("in Polish", (" ".join(["ucho"] * (LONGEST_UNIT_WORDS + 1)),), "pl"),
    Example("in Chinese, where each character counts", ("\u8033" * (LONGEST_UNIT_WORDS + 1),), "zh"),
)
