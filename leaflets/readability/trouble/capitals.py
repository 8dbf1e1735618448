"""READ17: words all in capitals.

What: in English, a word in capitals that is no abbreviation; in other languages two or more neighbouring words of two
letters or more, or one word of six letters or more, as shorter ones may be abbreviations.
Runs in every language; a script without capitals has none.
Why: words in capitals have no shape, are slower to read, and a screen reader may spell them out.
Source: UKAAF and RNIB clear-print advice: no blocks of capitals.
"""

from collections.abc import Iterator

from leaflets.readability.syllables_en import is_abbreviation
from leaflets.readability.trouble.reading import ENGLISH, Example, Reading, ReadUnit, Trouble
from leaflets.readability.trouble.word_data import known_abbreviations

CODE = "READ17"
LANGUAGES: frozenset[str] | None = None

_LONGER_THAN_ABBREVIATIONS = 6
_MOST_SHOWN = 4


def find(reading: Reading) -> Iterator[Trouble]:
    """Find runs of words in capitals, each once."""
    in_english = reading.language == ENGLISH
    for index, unit in enumerate(reading.units):
        if unit.text.islower():
            continue
        for first, last in _runs(unit):
            if _shouts(unit, first, last, in_english=in_english):
                start, end = unit.span(first, last)
                shown = " ".join(word.text for word in unit.words[first : min(last + 1, first + _MOST_SHOWN)])
                message = f"\u201c{shown}\u201d is all in capitals"
                yield reading.trouble(
                    CODE, index, (start, end), message, "use small letters, and bold for weight", 1.15
                )


def _runs(unit: ReadUnit) -> Iterator[tuple[int, int]]:
    first: int | None = None
    for index, word in enumerate(unit.words):
        if word.kind == "word" and word.text.isupper():
            first = index if first is None else first
        elif first is not None:
            yield first, index - 1
            first = None
    if first is not None:
        yield first, len(unit.words) - 1


def _shouts(unit: ReadUnit, first: int, last: int, *, in_english: bool) -> bool:
    texts = [word.text for word in unit.words[first : last + 1] if len(word.text) > 1]
    if in_english:
        known = known_abbreviations()
        return any(
            text not in known.known and text.lower() not in known.better_words and not is_abbreviation(text)
            for text in texts
        )
    return len(texts) > 1 or any(sum(map(str.isalpha, text)) >= _LONGER_THAN_ABBREVIATIONS for text in texts)


GOOD = (
    Example("small letters", ("Do not put anything in your ear.",)),
    Example("abbreviations", ("Ask your GP or the NHS about an MRI scan.",)),
    Example("I and A", ("A nurse and I will look.",)),
    Example("a short word in German may be an abbreviation", ("Fragen Sie den HNO-Arzt.",), "de"),
    Example(
        "a script without capitals, in Hindi",
        ("\u0915\u093e\u0928 \u0938\u0942\u0916\u093e \u0930\u0916\u0947\u0902\u0964",),
        "hi",
    ),
)
BAD = (
    Example("one word", ("Do NOT swim.",)),
    Example("a whole sentence", ("DO NOT PUT ANYTHING IN YOUR EAR.",)),
    Example("two words in Polish", ("NIE WOLNO moczy\u0107 ucha.",), "pl"),
    Example(
        "a long word in Ukrainian",
        ("\u0417\u0410\u0411\u041e\u0420\u041e\u041d\u0415\u041d\u041e \u043f\u043b\u0430\u0432\u0430\u0442\u0438.",),
        "uk",
    ),
)
