"""What is one letter: hand-split words of each language, and unicode-segmentation-rs for grapheme clusters.

That package comes with translate-toolkit; it reads Unicode's tables by itself, in Rust.
"""

import tomllib
import unicodedata
from pathlib import Path

import pytest
from unicode_segmentation_rs import graphemes

from leaflets.errors import LeafletError
from leaflets.outreach.letters import LETTERS_PATH, alphabet, letters_of, without_marks

LOCALES = Path(__file__).parents[2] / "locales"

# Letters of the alphabet as schools teach it, from memory: Welsh with j; Spanish without ch and ll since 2010 (Real
# Academia Española); Polish without q, v, x; Romanian with q, w, y; the 28 of Arabic without hamza.
COUNTS = {"ar": 28, "cy": 29, "en": 26, "es": 27, "pl": 32, "ro": 31}

SPLIT_BY_HAND = [
    ("en", "eardrum", "E A R D R U M"),
    ("en-US", "earwax", "E A R W A X"),
    ("pl", "gorączka", "G O R Ą C Z K A"),
    ("pl", "źdźbło", "Ź D Ź B Ł O"),
    ("ro", "țiuit", "Ț I U I T"),
    ("ro", "mâncărime", "M Â N C Ă R I M E"),
    ("es", "algodón", "A L G O D Ó N"),
    ("es", "llave", "L L A V E"),
    ("es", "niño", "N I Ñ O"),
    ("cy", "chwyddo", "CH W Y DD O"),
    ("cy", "poenladdwr", "P O E N L A DD W R"),
    ("cy", "cynllun", "C Y N LL U N"),
    ("cy", "gên", "G Ê N"),
    ("cy", "Rhiannon", "RH I A N N O N"),
    ("cy", "ffenest", "FF E N E S T"),
    ("cy", "argyfwng", "A R G Y F W NG"),
    ("cy", "ban\u034fgor", "B A N G O R"),
    ("ar", "قطرة", "ق ط ر ة"),
    ("ar", "سلام", "س ل ا م"),
    ("ar", "التمخّط", "ا ل ت م خ ط"),
    ("ur", "معائنہ", "م ع ا ئ ن ہ"),
    ("ur", "آپریشن", "آ پ ر ی ش ن"),
    ("bn", "কান", "কা ন"),
    ("bn", "পর্দা", "প র্দা"),
    ("bn", "বিশেষজ্ঞ", "বি শে ষ জ্ঞ"),
    ("bn", "অ্যাসপিরিন", "অ্যা স পি রি ন"),
    ("bn", "র\u200d্যাপ", "র\u200d্যা প"),
    ("pa", "ਕੰਨ", "ਕੰ ਨ"),
    ("pa", "ਗ੍ਰੋਮੈਟ", "ਗ੍ਰੋ ਮੈ ਟ"),
    ("pa", "ਗ੍\u200dਰੋਮ", "ਗ੍\u200dਰੋ ਮ"),
    ("pa", "ਫ਼ਾਰਮਾਸਿਸਟ", "ਫ਼ਾ ਰ ਮਾ ਸਿ ਸ ਟ"),
]


@pytest.mark.parametrize(("language", "word", "split"), SPLIT_BY_HAND)
def test_a_word_falls_into_the_letters_that_a_reader_sees(language: str, word: str, split: str) -> None:
    assert letters_of(word, alphabet(language)) == tuple(unicodedata.normalize("NFC", split).split(" "))


@pytest.mark.parametrize(("language", "word", "split"), SPLIT_BY_HAND)
def test_composed_and_decomposed_words_are_the_same(language: str, word: str, split: str) -> None:
    assert split
    assert letters_of(unicodedata.normalize("NFD", word), alphabet(language)) == letters_of(word, alphabet(language))


@pytest.mark.parametrize(("language", "count"), COUNTS.items())
def test_an_alphabet_has_as_many_letters_as_schools_teach(language: str, count: int) -> None:
    letters = alphabet(language).letters
    assert len(letters) == len(set(letters)) == count


def test_the_letters_of_a_table_are_letters_of_their_language() -> None:
    for language in tomllib.loads(LETTERS_PATH.read_text("utf-8")):
        known = alphabet(language)
        assert {letter: letters_of(letter, known) for letter in known.letters} == {
            letter: (letter,) for letter in known.letters
        }


@pytest.mark.parametrize("locale", ["ar", "bn", "cy", "en_US", "es", "pa", "pl", "ro", "ur"])
def test_letters_are_grapheme_clusters_or_several_of_them(locale: str) -> None:
    known = alphabet(locale.replace("_", "-"))
    terms = tomllib.loads((LOCALES / locale / "glossary.toml").read_text("utf-8"))["term"]
    words = {term["translation"] for term in terms if term["translation"].replace("\u0651", "").isalpha()}
    if known.script in ("Bengali", "Gurmukhi"):  # isalpha() refuses vowel signs
        words = {term["translation"] for term in terms if not set(term["translation"]) & set(" -()/")}
    assert len(words) > 20
    for word in words:
        ours = letters_of(word, known)
        plain = unicodedata.normalize("NFC", word.upper())
        if known.script == "Arabic":
            plain = plain.replace("\u0651", "").replace("\u064b", "")
        theirs = graphemes(plain, is_extended=True)
        ends = {sum(len(cluster) for cluster in theirs[:count]) for count in range(1, len(theirs) + 1)}
        assert {sum(len(letter) for letter in ours[:count]) for count in range(1, len(ours) + 1)} <= ends, word
        if locale not in ("bn", "cy", "pa"):
            assert ours == tuple(theirs), word


@pytest.mark.parametrize(
    ("language", "word"),
    [
        ("en", "ear wax"),
        ("en", "ear-wax"),
        ("en", "ear2"),
        ("en", "it's"),
        ("en", "ухо"),
        ("en", "e\u200bar"),
        ("cy", "\u034f"),
        ("bn", "ear"),
        ("bn", "কান।"),
        ("bn", "কা১"),
        ("pa", "\u0a3e\u0a15"),  # begins with a vowel sign
        ("ar", "عـين"),  # stretched
        ("ur", "ur"),
        ("ro", "ureche\u0163"),  # t with a cedilla
        ("ur", "كان"),  # with the kaf of Arabic
        ("ar", "کبير"),  # with the kaf of Urdu
    ],
)
def test_what_is_no_letter_of_the_language_is_refused(language: str, word: str) -> None:
    with pytest.raises(ValueError, match=r"has ['\"]"):
        letters_of(word, alphabet(language))


@pytest.mark.parametrize("language", ["", "xx", "fr", "english", "en-!!", "de-AT"])
def test_a_language_without_a_table_is_refused(language: str) -> None:
    with pytest.raises(LeafletError) as refused:
        alphabet(language)
    assert [problem.place for problem in refused.value.problems] == ["word search [language]"]


def test_marks_come_off_latin_letters_alone() -> None:
    assert without_marks("GÊNŻŃÑȘ", alphabet("cy")) == "GENZNNS"
    assert without_marks("কা", alphabet("bn")) == "কা"
