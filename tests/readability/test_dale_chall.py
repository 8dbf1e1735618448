"""The new Dale-Chall formula: an independent package, sums by hand, the rules for words, and no list at all."""

import math
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest

from leaflets.readability.familiar_words import is_familiar, listed_words
from leaflets.readability.formulas import Formula, all_formulas
from leaflets.readability.report import grade_units
from leaflets.readability.segment import Word, WordKind, split_units, words

NAME = "dale-chall-new"
GETTYSBURG = (Path(__file__).with_name("texts") / "gettysburg_bliss.txt").read_text(encoding="utf-8")

# The grades as the package new-dale-chall-readability names them, and as the data of the formula does.
GRADES = {
    "16+": "grade 16 and over",
    "13-15": "grades 13 to 15",
    "11-12": "grades 11 and 12",
    "9-10": "grades 9 and 10",
    "7-8": "grades 7 and 8",
    "5-6": "grades 5 and 6",
    "4": "grade 4",
    "3": "grade 3",
    "2": "grade 2",
    "1": "grade 1",
}


@pytest.fixture(scope="module")
def listed() -> frozenset[str]:
    found = listed_words()
    assert found is not None, "textstat is among the packages for development"
    return found


def formula() -> Formula:
    return all_formulas()[NAME]


@pytest.mark.parametrize("percent", [0, 2.5, 10, 22.2, 40, 100])
@pytest.mark.parametrize("words_a_unit", [1, 7.5, 20, 41.25])
def test_the_formula_gives_what_an_independent_package_gives(
    percent: float, words_a_unit: float, reference_module: Callable[[str], ModuleType]
) -> None:
    # Source: new-dale-chall-readability, written from the book; it rounds to two decimals, as the book does.
    theirs = reference_module("new_dale_chall_readability.formulas").compute_cloze_score(percent / 100, words_a_unit)
    ours = formula().value({"percent_unfamiliar": percent, "words_per_unit": words_a_unit})
    assert ours == pytest.approx(theirs, abs=0.0051)


def test_the_grades_are_those_of_the_published_table(reference_module: Callable[[str], ModuleType]) -> None:
    # Source: the same package: table 5-8 of the book.
    grade_of = reference_module("new_dale_chall_readability.formulas").reading_level_from_cloze
    for cloze in range(-60, 65):
        assert formula().band(cloze, "en") == GRADES[grade_of(cloze)], cloze
    # The table has whole numbers. Between two of them the package takes the upper one, we take the lower.
    for hundredths in range(1500, 6000, 7):
        assert formula().band(hundredths / 100, "en") == GRADES[grade_of(math.floor(hundredths / 100))]


def test_scores_are_those_worked_by_hand() -> None:
    # Four words that are all on the list: 64 - 0.95 * 0 - 0.69 * 4 = 61.24.
    easy = grade_units(["Keep your ear dry."] * 10, "en-GB")
    assert easy.scores[NAME] == pytest.approx(61.24)
    assert easy.bands[NAME] == "grade 1"
    # One word of four is unfamiliar, microsuction: 64 - 0.95 * 25 - 0.69 * 4 = 64 - 23.75 - 2.76 = 37.49.
    hard = grade_units(["We used microsuction today."] * 10, "en")
    assert hard.scores[NAME] == pytest.approx(37.49)
    assert hard.bands[NAME] == "grades 7 and 8"
    # Both: 80 words, 20 units, 10 unfamiliar, 12.5 %: 64 - 11.875 - 2.76 = 49.365.
    both = grade_units(["Keep your ear dry.", "We used microsuction today."] * 10, "en")
    assert both.scores[NAME] == pytest.approx(49.365)
    assert both.bands[NAME] == "grade 4"
    assert not [note for note in both.notes if NAME in note]


@pytest.mark.parametrize(
    ("text", "kind", "familiar"),
    # Source: the rules of Dale and Chall as the module states them. On the list are ear, box, berry, bus, doctor, call,
    # caller, use, stop, dry, cry, lie, clean, large, big, happy, quick, cotton, ball, she'll and pound; percent and
    # national are not.
    [
        ("ear", "word", True),
        ("EAR", "word", True),
        ("microsuction", "word", False),
        # plurals and possessives
        ("ears", "word", True),
        ("boxes", "word", True),
        ("berries", "word", True),
        ("doctor's", "word", True),
        ("doctor\u2019s", "word", True),
        ("doc\u00adtor\uff07s", "word", True),
        ("doctors'", "word", True),
        # forms of verbs
        ("calls", "word", True),
        ("called", "word", True),
        ("calling", "word", True),
        ("used", "word", True),
        ("using", "word", True),
        ("stopped", "word", True),
        ("stopping", "word", True),
        ("cried", "word", True),
        ("lying", "word", True),
        # forms of adjectives, and adverbs
        ("cleaner", "word", True),
        ("largest", "word", True),
        ("biggest", "word", True),
        ("happier", "word", True),
        ("quickly", "word", True),
        # the -er of a doer, other endings, and two endings
        ("caller", "word", True),  # is on the list itself
        ("stopper", "word", False),
        ("cleanness", "word", False),
        ("usable", "word", False),
        ("dryings", "word", False),
        ("buss", "word", False),  # a doubled s is no plural
        # words joined with hyphens
        ("cotton-ball", "word", True),
        ("cotton\u2011balls", "word", True),
        ("cotton-applicator", "word", False),
        # figures, names, symbols, abbreviations, addresses
        ("48", "figure", True),
        ("14/03/2025", "figure", True),
        ("Szczecin", "word", True),
        ("SZCZECIN", "word", False),
        ("£", "symbol", True),
        ("%", "symbol", False),
        ("Dr", "word", True),
        ("NHS", "word", False),
        ("www.example.org", "address", False),
        ("she'll", "word", True),
        ("doctor'll", "word", True),
    ],
)
def test_words_are_familiar_by_the_rules_of_the_authors(
    text: str, kind: WordKind, familiar: bool, listed: frozenset[str]
) -> None:
    assert is_familiar(text, kind, listed) is familiar


def test_a_name_is_known_by_its_capital_within_a_unit_alone() -> None:
    # Within: 4 words, none unfamiliar: 61.24. At the start it may be any word: 25 % unfamiliar, 37.49.
    assert grade_units(["Then call Szczecin back."] * 10, "en").scores[NAME] == pytest.approx(61.24)
    assert grade_units(["Szczecin will call back."] * 10, "en").scores[NAME] == pytest.approx(37.49)
    assert grade_units(["\u2013 Szczecin will call back."] * 10, "en").scores[NAME] == pytest.approx(37.49)


def found_words(text: str) -> Iterator[Word]:
    for unit in split_units(text):
        first, *rest = words(unit.text)
        yield first._replace(text=first.text.lower())
        yield from rest


def test_a_whole_text_has_the_unfamiliar_words_of_an_independent_package(
    listed: frozenset[str], reference_module: Callable[[str], ModuleType]
) -> None:
    # Source: the same package, which looks words up in the list as they are written, without regular forms. The rest
    # by hand: on the list are father, honor, remain, rest, test, fit, high, large, year, battle and field.
    share_of_unfamiliar = reference_module("new_dale_chall_readability.utils").pct_unfamiliar_words
    found = list(found_words(GETTYSBURG))
    theirs = {word.text for word in found if share_of_unfamiliar(word.text)}
    ours = {word.text for word in found if not is_familiar(word.text, word.kind, listed)}
    assert theirs - ours == {
        *("fathers", "honored", "remaining", "resting", "testing", "fitting", "highly", "larger", "years"),
        "battle-field",
    }
    assert ours < theirs


WITHOUT_THE_LIBRARY = """
import sys
sys.modules["textstat"] = None
from leaflets.readability.report import grade_units
report = grade_units(["We used microsuction today."] * 10, "en")
print("dale-chall-new" in report.scores, "dale-chall-new" in report.bands, sorted(report.scores))
print(*report.notes, sep="\\n")
"""

WITH_THE_LIBRARY = """
import sys
from leaflets.readability.report import grade_units
report = grade_units(["We used microsuction today."] * 10, "en")
print("dale-chall-new" in report.scores, "textstat" in sys.modules, "nltk" in sys.modules)
"""


def printed(program: str) -> str:
    return subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout


def test_without_the_list_the_score_is_left_out_and_a_note_says_what_to_install() -> None:
    answer = printed(WITHOUT_THE_LIBRARY)
    assert answer.startswith("False False ['ari', 'coleman-liau', 'flesch-kincaid',")
    (note,) = [line for line in answer.splitlines() if line.startswith(f"{NAME}:")]
    assert "pip install 'leaflets[second-opinion]'" in note


def test_the_library_is_not_imported_for_its_list() -> None:
    assert printed(WITH_THE_LIBRARY).split() == ["True", "False", "False"]
