"""Make syllables_en.table anew: `python -m leaflets.readability.build_syllable_table SOURCE`.

SOURCE is the data of the CMU Pronouncing Dictionary: its own file `cmudict.dict`, or `index.js` of the npm package
`cmu-pronouncing-dictionary` (`npm pack cmu-pronouncing-dictionary`). Only syllable counts are kept; the licence of the
data stands in syllables_en.LICENCE.txt.
"""

import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from leaflets.errors import LeafletError
from leaflets.readability.syllable_table import pack_table
from leaflets.readability.syllables_en import TABLE_PATH
from leaflets.readability.syllables_en_rules import plural_or_possessive

# cmudict.dict: `word(2) W ER1 D # remark`; index.js: `  "word(2)": "W ER1 D",` with the quotes of a plain key left out.
_ENTRY = re.compile(r'^\s*"?([a-z\']+)(?:\(\d+\))?"?:?\s+"?([A-Z][A-Z0-9 ]*)')
_PLAIN_WORD = re.compile(r"[a-z]+(?:'[a-z]+)*")
_FEWEST_WORDS = 100_000


def parse_pronunciations(lines: Iterable[str]) -> Iterator[tuple[str, int]]:
    """Return word and syllables of each pronunciation: a syllable is a vowel, and only vowels carry a stress digit.

    >>> list(parse_pronunciations(["our AW1 ER0", "our(2) AW1 R # short", ' "ear": "IH1 R",']))
    [('our', 2), ('our', 1), ('ear', 1)]

    """
    for line in lines:
        entry = _ENTRY.match(line)
        if entry and _PLAIN_WORD.fullmatch(entry[1]):
            yield entry[1], sum(sound.isdigit() for sound in entry[2])


def shortest_counts(pronunciations: Iterable[tuple[str, int]]) -> dict[str, int]:
    """Return the fewest syllables of each word, at least 1: Flesch takes the shorter of two accepted pronunciations."""
    shortest: dict[str, int] = {}
    for word, syllables in pronunciations:
        if syllables:
            shortest[word] = min(shortest.get(word, syllables), syllables)
    return shortest


def without_regular_possessives(syllables: dict[str, int]) -> dict[str, int]:
    """Leave out each possessive that the rules count rightly from the word itself."""
    return {
        word: count
        for word, count in syllables.items()
        if "'" not in word or plural_or_possessive(word, syllables.get) != count
    }


def main(arguments: list[str]) -> None:
    """Write the table beside this module. Raises LeafletError where the source is not the dictionary."""
    if len(arguments) != 1:
        raise LeafletError.at("build_syllable_table", "one SOURCE is needed", "name cmudict.dict or index.js")
    source = Path(arguments[0])
    counts = shortest_counts(parse_pronunciations(source.read_text(encoding="utf-8").splitlines()))
    if len(counts) < _FEWEST_WORDS:
        raise LeafletError.at(
            str(source),
            f"{len(counts)} words were read",
            f"name the data of the CMU Pronouncing Dictionary, which has over {_FEWEST_WORDS}",
        )
    kept = without_regular_possessives(counts)
    packed = pack_table(kept)
    TABLE_PATH.write_bytes(packed)
    sys.stdout.write(f"{TABLE_PATH}: {len(kept)} words, {len(packed)} bytes\n")


if __name__ == "__main__":
    main(sys.argv[1:])
