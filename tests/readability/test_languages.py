"""Other languages: their own formulas or none, norms from one document in all of them, unknown languages."""

# ruff: noqa: RUF001 - letters of other scripts are what is tried

import unicodedata
from collections.abc import Callable
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leaflets.readability.counts import Counts, Measures, add, count_unit
from leaflets.readability.formulas import formulas_for
from leaflets.readability.languages import long_word_over, longest_unit_words
from leaflets.readability.report import FEWEST_UNITS, grade_units
from leaflets.readability.segment import split_units, words
from leaflets.readability.text_report import grade_text

LANGUAGES = (
    "en cy de nl sv da nb nn es fr it pt ro pl ru uk tr hu ar ur fa hi bn pa gu ta so sw cs sk bg el fi lt".split()  # noqa: SIM905
)
ENGLISH_LONG_WORDS = 29.4  # % of the words of the English Declaration have over 6 letters


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_declaration_of_human_rights_splits_alike_in_every_language(
    language: str, declaration: Callable[[str], str]
) -> None:
    # Source of 55 to 75: the text, 60 sentences in English, a few more or fewer in translation. The rest holds the data
    # file to what it says of itself: measured on this text with this splitting.
    units = [unit.text for unit in split_units(declaration(language), language)]
    assert 55 <= len(units) <= 75
    word_count = sum(len(words(unit)) for unit in units)
    written_down = longest_unit_words(language)
    assert written_down == round(20 * round(word_count / len(units), 1) / 22.7)
    lengths = [
        sum(unicodedata.category(character)[0] == "L" for character in word.text)
        for unit in units
        for word in words(unit)
    ]
    shares = {cut: 100 * sum(length > cut for length in lengths) / word_count for cut in range(2, 12)}
    nearest = min(shares, key=lambda cut: abs(shares[cut] - ENGLISH_LONG_WORDS))
    assert long_word_over(language) == nearest
    report = grade_units(units, language)
    assert report.words == word_count
    assert bool(report.scores) == bool(formulas_for(language))


def test_the_spanish_declaration_scores_as_with_independent_syllables(
    declaration: Callable[[str], str], reference_module: Callable[[str], ModuleType]
) -> None:
    # Source: the syllables of pylabeador in the published formula.
    syllabify = reference_module("pylabeador").syllabify
    units = [unit.text for unit in split_units(declaration("es"), "es")]
    found = [word.text for unit in units for word in words(unit)]
    syllables = sum(len(syllabify(word.lower())) if word.isalpha() else 1 for word in found)
    report = grade_units(units, "es")
    assert report.syllables == pytest.approx(syllables, rel=0.005)
    expected = 206.835 - 62.3 * syllables / len(found) - len(found) / len(units)
    assert report.score == pytest.approx(expected, abs=0.7)


TWELVE = {
    "de": "Halten Sie Ihr Ohr trocken.",
    "es": "Mantenga el oído seco.",
    "fr": "Gardez votre oreille au sec.",
    "it": "Tenga l'orecchio asciutto.",
    "nl": "Houd uw oor droog.",
    "pt": "Mantenha o ouvido seco.",
    "pl": "Utrzymuj ucho w suchości.",
    "ru": "Держите ухо сухим.",
    "tr": "Kulağınızı kuru tutun.",
    "sv": "Håll örat torrt.",
    "da": "Hold øret tørt.",
    "nb": "Hold øret tørt.",
    "hi": "कृपया कान सूखा रखें।",
    "bn": "কান শুকনো রাখুন।",
}


@pytest.mark.parametrize("language", TWELVE)
def test_a_language_has_its_own_score_but_no_school_grade_of_english(language: str) -> None:
    report = grade_units([TWELVE[language]] * 12, language)
    assert list(report.scores) == [formula.name for formula in formulas_for(language)]
    assert report.score == report.scores[report.formula or ""]
    assert (report.score_low, report.score_high) == pytest.approx((report.score, report.score))
    assert report.grade is report.low is report.high is report.reading_age_years is report.reading_ease is None
    assert report.reading_age_range is None
    assert report.status in {"validated", "indicative"}
    few = grade_units([TWELVE[language]] * (FEWEST_UNITS - 1), language)
    assert (few.score, dict(few.scores), few.band) == (None, {}, None)


def test_scores_have_the_bands_that_were_published() -> None:
    # Spanish: 4 words, 9 syllables (man-ten-ga el o-í-do se-co = 3 + 1 + 3 + 2 = 9): 206.835 - 62.3 * 9 / 4
    # - 4 = 62.66.
    report = grade_units([TWELVE["es"]] * 12, "es-ES")
    assert report.score == pytest.approx(62.66, abs=0.005)
    assert report.band == "normal"  # INFLESZ: 55 to 65
    # Swedish: 3 words, none over 6 letters: 3.
    swedish = grade_units([TWELVE["sv"]] * 12, "sv")
    assert (swedish.score, swedish.band) == (3, "very easy")


def test_uncertain_figures_are_said_to_be_uncertain() -> None:
    assert any("constants uncertain" in note for note in grade_units([TWELVE["fr"]] * 12, "fr").notes)
    notes = grade_units(["Keep your ear dry."] * 12, "en").notes
    assert "smog: under 30 units" in notes
    assert "smog: counted as read aloud" in notes
    assert "forcast: under 150 words" in notes
    many = grade_units(["Keep your left ear dry."] * 30, "en").notes
    assert many == ("smog: counted as read aloud",)


@pytest.mark.parametrize("language", ["uk", "ar", "ur", "so", "cy", "ro", "zh-Hans", "vi"])
def test_a_language_without_a_formula_is_said_to_have_none(language: str) -> None:
    report = grade_text("Keep your ear dry.\n" * 12, language).report
    assert (report.formula, report.status, dict(report.scores), report.score, report.grade) == (
        None,
        "none",
        {},
        None,
        None,
    )
    assert report.notes == (f"no grade exists for '{language}'",)


def test_the_longest_unit_follows_the_language() -> None:
    # 20 words times the words in a sentence of the Declaration over 22.7: tr 17.0, de 21.3, es 26.1, ta 12.8.
    assert [longest_unit_words(language) for language in ("en", "tr", "de", "es", "ta")] == [20, 15, 19, 23, 11]
    assert longest_unit_words("zh") is None
    assert grade_units(["Kulağınızı kuru tutun."], "tr-TR").longest_words_cap == 15


def test_a_translation_is_compared_with_its_source() -> None:
    # English: 4 words, none over 6 letters: 4. Ukrainian: 3 words, "Тримайте" alone over 7 letters: 3 + 100 / 3.
    source = grade_units(["Keep your ear dry."] * 10, "en")
    translation = grade_units(["Тримайте вухо сухим."] * 10, "uk", source=source)
    assert source.lix_own_cut == pytest.approx(4)
    assert translation.relative_lix == pytest.approx(3 + 100 / 3 - 4)
    assert grade_units(["保持耳朵干燥。"] * 10, "zh", source=source).relative_lix is None
    assert translation.lix_own_cut is not None
    assert source.relative_lix is None


def test_frequent_words_stand_in_for_a_grade_where_there_is_no_formula() -> None:
    # By hand from the list: добрий and день are among the frequent words of Ukrainian, вухо is not.
    report = grade_units(["Добрий день."] * 9 + ["вухо вухо"], "uk")
    assert report.frequent_share == pytest.approx(18 / 20)
    assert grade_units(["Keep your ear dry."] * 10, "uk").frequent_share is None
    assert grade_units(["Keep your ear dry."] * 10, "en").frequent_share is None
    assert grade_units(["Dhegtaada qalaji."] * 10, "so").frequent_share is None


@pytest.mark.parametrize(
    ("language", "text"), [("ru", "Keep your ear dry."), ("es", "ухо ухо"), ("hi", "Keep it dry.")]
)
def test_a_text_in_foreign_letters_gets_no_score(language: str, text: str) -> None:
    report = grade_units([text] * 12, language)
    assert (report.score, dict(report.scores)) == (None, {})
    assert report.status != "none"


@given(st.lists(st.text(max_size=80), max_size=14), st.sampled_from(LANGUAGES))
@settings(max_examples=150, deadline=None)
def test_any_text_in_any_language_never_crashes(units: list[str], language: str) -> None:
    report = grade_units(units, language)
    if report.score is not None:
        assert report.score_low is not None
        assert report.score_high is not None
        assert report.score_low <= report.score <= report.score_high
    read = grade_text("\n".join(units), language)
    assert len(read.units) == read.report.sentences


@pytest.mark.parametrize("language", ["es", "ru", "sv"])
def test_normal_forms_and_tags_change_nothing(language: str) -> None:
    units = [TWELVE[language]] * 12
    expected = dict(grade_units(units, language).scores)
    for changed in (
        grade_units([unicodedata.normalize("NFD", unit) for unit in units], language),
        grade_units([unit.rstrip(".") for unit in units], language.upper()),
        grade_units(units, f"{language}_XX"),
    ):
        assert dict(changed.scores) == pytest.approx(expected)


def test_headings_are_no_part_of_a_text_and_places_stay() -> None:
    text = "# Your left ear\nKeep it dry.\n  ## More\nRest. Sip water.\n"
    read = grade_text(text, "en")
    assert [unit.text for unit in read.units] == ["Keep it dry.", "Rest.", "Sip water."]
    assert all(text[unit.start : unit.end] == unit.text for unit in read.units)


def test_counts_add_up_and_measures_of_addresses_alone_have_no_letters() -> None:
    units = [count_unit(words(unit), "en") for unit in ("Keep your ear dry.", "See www.example.org")]
    total = add(units)
    assert (total.words, total.addresses, total.letters) == (6, 1, 14 + 3)
    assert Measures(1, count_unit(words("www.example.org"), "en"))["letters_per_word"] == 0
    assert add([]) == Counts(*[0] * 13)
