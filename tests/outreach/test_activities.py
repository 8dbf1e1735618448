"""The pages of a class set: drawn from the seed and the number, with the words that translators chose for the grid."""

from collections import Counter
from typing import Any

import pytest

from leaflets.catalogue import MessageRecorder
from leaflets.compose.activities import STATEMENTS_A_PAGE, WORDS_FILE, activity_pages, parts_of_the_ear
from leaflets.compose.words import lists_in
from leaflets.content import Content
from leaflets.errors import LeafletError
from leaflets.outreach.letters import alphabet, letters_of
from leaflets.outreach.unwanted import UNWANTED_PATH, unwanted_words

from .conftest import catalogue_of_sources
from .test_word_search import read_anywhere

BLOCK = "school/activities"
WORDS = {
    "ar": "أذن، شمع، صوت، طبلة، سمع، قناة، هدوء",
    "bn": "কান, শব্দ, পর্দা, ময়লা, শোনা, নীরব, নরম",
    "cy": "clust, cwyr, sŵn, tawel, clywed, golchi, drwm",
    "pa": "ਕੰਨ, ਆਵਾਜ਼, ਪਰਦਾ, ਸੁਣਨਾ, ਨਰਮ, ਚੁੱਪ, ਮੋਮ",
    "pl": "ucho, dźwięk, błona, woda, cisza, hałas, słuch",
    "ro": "ureche, sunet, liniște, ceară, apă, auz, zgomot",
    "ur": "کان، موم، آواز، پردہ، خاموش، نالی، دھونا",
}
"""Seven words about ears in each language, from memory: an ear, wax, sound and the like."""


def recorder_for(content: Content, language: str, band: Any, words: str) -> MessageRecorder:
    source = lists_in(content.words, WORDS_FILE, "word_lists")[band]
    catalogue = catalogue_of_sources(content, language, {source: words})
    return MessageRecorder(language, catalogue, shared_contexts=content.words.shared_contexts)


@pytest.mark.parametrize("band", ["5-7", "7-11"])
@pytest.mark.parametrize("language", sorted(WORDS))
def test_the_words_of_each_language_are_hidden_in_its_own_letters(language: str, band: Any, content: Content) -> None:
    recorder = recorder_for(content, language, band, WORDS[language])
    (page,) = activity_pages(content.words, recorder, band, BLOCK, "oak", 1)
    letters = alphabet(language)
    listed = [word.strip() for word in WORDS[language].replace("،", ",").split(",")]
    assert page.search.right_to_left == (language in ("ar", "ur"))
    for word in listed:
        assert len(read_anywhere(page.search, "".join(letters_of(word, letters)))) == 1
    # Solved, nothing but the words is left: as many letters as their cells, where they cross once.
    kept = [letter for line in page.solved_grid for letter in line if letter != "·"]
    assert len(kept) == len({cell for word in page.search.words for cell in word.cells})


@pytest.mark.parametrize(
    ("listed", "said"),
    [
        ("ucho, dźwięk, błona uszna", "word 3, 'błona uszna', has ' ', which is no Latin letter"),
        ("ucho, no, błona", "word 2, 'no', has 2 letters (take a word of 3 to 8 letters)"),
        ("ucho, niedosłuch, błona", "word 2, 'niedosłuch', has 10 letters (take a word of 3 to 8 letters)"),
        ("ucho, ucho, błona", "word 2, 'ucho', is also word 1"),
        ("ucho, ch, uchowy", "word 2, 'ch', has 2 letters"),
        ("kanał, kanałek", "is read inside 'KANAŁEK'"),
        ("ucho, ушко", "which is no Latin letter"),
        ("ucho, , błona", "word 2, '', has 0 letters"),
        (", ".join(["ucho", "woda", "cisza", "słuch"] * 4), "16 words are too many for a word search"),
        ("ucho, supa", "'SUKA'"),
    ],
)
def test_words_that_do_not_fit_are_refused_at_their_line_of_the_catalogue(
    listed: str, said: str, content: Content
) -> None:
    listed = listed.replace("supa", "suka")
    with pytest.raises(LeafletError) as caught:
        activity_pages(content.words, recorder_for(content, "pl", "5-7", listed), "5-7", BLOCK, "oak", 1)
    assert {problem.place for problem in caught.value.problems} == {"locales/pl.po:7"}
    assert said in str(caught.value)


def test_two_syllable_signs_are_a_word_and_two_letters_are_none(content: Content) -> None:
    recorder = recorder_for(content, "bn", "5-7", "কান, শব্দ")
    (page,) = activity_pages(content.words, recorder, "5-7", BLOCK, "oak", 1)
    assert [len(word.letters) for word in page.search.words] == [2, 2]


@pytest.mark.parametrize("band", ["5-7", "7-11"])
def test_pages_differ_and_hold_true_and_false_and_every_part(band: Any, content: Content) -> None:
    recorder = MessageRecorder("en", shared_contexts=content.words.shared_contexts)
    pages = activity_pages(content.words, recorder, band, BLOCK, "oak", 30)
    assert [page.number for page in pages] == list(range(1, 31))
    assert len({page.search.grid for page in pages}) == 30
    assert len({page.path.walls for page in pages}) == 30
    parts = Counter(parts_of_the_ear(content.words, band))
    for page in pages:
        assert len(page.statements) == len(set(page.statements)) == STATEMENTS_A_PAGE[band]
        true = sum(one.is_so for one in page.statements)
        assert abs(2 * true - len(page.statements)) <= 1
        assert Counter(page.labels) == parts
    # Of 30 pages, no order of labels and no choice of sentences can be the only one.
    assert len({page.labels for page in pages}) > 2
    assert len({page.statements for page in pages}) > 5
    assert len({one for page in pages for one in page.statements}) == len(pages[0].statements) + len(
        {one for page in pages for one in page.statements} - set(pages[0].statements)
    )


def test_a_page_is_the_same_for_the_same_seed_and_number(content: Content) -> None:
    recorder = MessageRecorder("en", shared_contexts=content.words.shared_contexts)
    few = activity_pages(content.words, recorder, "5-7", BLOCK, "oak", 2)
    more = activity_pages(content.words, recorder, "5-7", BLOCK, "oak", 3)
    other = activity_pages(content.words, recorder, "5-7", BLOCK, "elm", 2)
    assert few == more[:2]
    assert few[0].search.grid != other[0].search.grid


def test_no_grid_holds_a_word_that_a_child_should_not_find(content: Content) -> None:
    recorder = MessageRecorder("en", shared_contexts=content.words.shared_contexts)
    assert UNWANTED_PATH.exists()
    assert len(unwanted_words("en-US")) == len(unwanted_words("en")) > 20
    for page in activity_pages(content.words, recorder, "7-11", BLOCK, "oak", 10):
        for word in unwanted_words("en"):
            assert read_anywhere(page.search, word.upper()) == set(), word
