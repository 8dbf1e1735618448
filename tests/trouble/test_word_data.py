"""The words that kinds of trouble know: each plain word is plainer, each list says where it comes from."""

import importlib.util
import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

import leaflets.readability.trouble
from leaflets.readability.syllables_en import count_syllables
from leaflets.readability.trouble.word_data import (
    everyday_words,
    known_abbreviations,
    names_of_one_thing,
    participles,
    plain_phrases,
    plain_words,
    regular_forms,
)

FOLDER = Path(leaflets.readability.trouble.__file__).parent
FILES = sorted(path.name for path in FOLDER.glob("*.toml"))
FEWEST_PLAIN_WORDS = 200

# How often words stand in English texts, on Zipf's scale (7.7: "the"). Source: wordfreq 3.1.1, list "en"; for more
# than one word the rarest of them.
ZIPF = {
    "grommet": (2.10, "tiny tube in the eardrum", 2.43),
    "otitis": (2.16, "ear infection", 4.33),
    "otitis externa": (1.56, "infection of the ear canal", 4.22),
    "otitis media": (2.16, "infection behind the eardrum", 2.43),
    "pinna": (2.10, "outer ear", 4.25),
    "abnormal": (3.71, "unusual", 4.45),
    "abscess": (2.81, "pocket of pus", 3.02),
    "acute": (4.00, "short-term", 4.98),
    "allergen": (2.63, "cause of the allergy", 3.60),
    "benign": (3.51, "harmless", 3.79),
    "chronic": (4.20, "long-term", 5.13),
    "fungal": (3.31, "from a fungus", 3.53),
    "gastric": (3.30, "stomach", 4.42),
    "obese": (3.68, "very overweight", 3.74),
    "renal": (3.44, "kidney", 4.03),
    "sepsis": (3.01, "severe infection", 4.33),
    "trauma": (4.14, "injury", 4.74),
    "aqueous": (3.15, "watery", 3.19),
    "extraction": (3.80, "removal", 4.35),
    "surveillance": (4.17, "regular checks", 4.31),
    "dislodge": (2.79, "loosen", 3.37),
    "precisely": (4.20, "exactly", 5.15),
}
ALSO_COMMONER = {("benign", "not cancer"): (3.51, 4.93)}


@cache
def _well_known() -> frozenset[str]:
    """Return the words that Dale and Chall found known to children of grade 4, in textstat's copy, and their forms."""
    spec = importlib.util.find_spec("textstat")
    if spec is None or spec.origin is None:
        pytest.skip("textstat is not installed: its list of well-known words is the outside reference here")
    text = (Path(spec.origin).parent / "resources" / "en" / "easy_words.txt").read_text("utf-8")
    return frozenset(form for word in text.split() for form in regular_forms(word))


def _syllables(text: str) -> list[int]:
    return [count_syllables(word) or 1 for word in re.findall(r"[\w'-]+", text)]


def _is_plainer(hard: str, plain: str) -> bool:
    """Whether it has fewer syllables, no word as long as the longest of the hard one, or well-known words only."""
    if sum(_syllables(plain)) < sum(_syllables(hard)) or max(_syllables(plain)) < max(_syllables(hard)):
        return True
    if all(word in _well_known() for word in re.findall(r"[\w'-]+", plain)):
        return True
    if hard in ZIPF and ZIPF[hard][1] == plain:
        return ZIPF[hard][2] > ZIPF[hard][0]
    rare, common = ALSO_COMMONER.get((hard, plain), (0.0, 0.0))
    return common > rare


def test_there_are_enough_plain_words() -> None:
    assert len(plain_words()) >= FEWEST_PLAIN_WORDS


@pytest.mark.parametrize("hard", sorted(plain_words()))
def test_a_plain_word_is_shorter_or_more_common(hard: str) -> None:
    assert hard == hard.lower()
    assert plain_words()[hard]
    for plain in plain_words()[hard]:
        assert plain != hard
        assert _is_plainer(hard, plain), plain


def test_no_plain_word_is_a_hard_one() -> None:
    """What is told to write must not be found in its turn."""
    hard = {phrase for phrases in plain_phrases().values() for phrase, _ in phrases}
    for entry, plain in plain_words().items():
        for one in plain:
            told = tuple(one.replace(",", "").split())
            pieces = {told[i:j] for i in range(len(told)) for j in range(i + 1, len(told) + 1)}
            assert not pieces & hard, (entry, one)


def test_no_word_is_both_hard_and_everyday() -> None:
    assert everyday_words() & set(plain_words()) == set()


@pytest.mark.parametrize("word", sorted(everyday_words()))
def test_an_everyday_word_is_there_because_it_is_long(word: str) -> None:
    assert (count_syllables(word) or 0) >= 3


def test_names_stand_for_one_thing_each() -> None:
    names = [name for thing in names_of_one_thing() for name in thing.names]
    assert len(names) == len(set(names))
    for thing in names_of_one_thing():
        assert len(thing.names) > 1
        assert {name for pair in thing.together for name in pair} <= set(thing.names)


def test_participles_are_in_one_list_of_their_kind() -> None:
    lists = participles()
    assert not lists.no_participles & (lists.irregular | lists.states)
    assert all(word.endswith("ed") for word in lists.no_participles)
    assert not [word for word in lists.irregular if word.endswith("ed") and len(word) > 4]


def test_an_abbreviation_is_known_or_has_better_words() -> None:
    known = known_abbreviations()
    assert {word.lower() for word in known.known} & set(known.better_words) == set()


@pytest.mark.parametrize("name", FILES)
def test_every_list_says_where_it_comes_from(name: str) -> None:
    for group, entry in tomllib.loads((FOLDER / name).read_text("utf-8")).items():
        assert entry["source"].strip(), group


@pytest.mark.parametrize("name", FILES)
def test_no_list_holds_a_word_twice(name: str) -> None:
    for group, entry in tomllib.loads((FOLDER / name).read_text("utf-8")).items():
        if isinstance(entry.get("words"), str):
            listed = entry["words"].split()
            assert sorted(word for word in set(listed) if listed.count(word) > 1) == [], group
