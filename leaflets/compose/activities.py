"""The pages of activities of a class set: each drawn from the seed and its own number."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from leaflets.catalogue import MessageRecorder
from leaflets.catalogue.pseudo import PSEUDO_LOCALES
from leaflets.compose.places import place_of_message
from leaflets.compose.words import Words, lists_in
from leaflets.errors import LeafletError, Problem
from leaflets.outreach.letters import alphabet, letters_of
from leaflets.outreach.seeded import Drawn, Draws
from leaflets.outreach.unwanted import unwanted_words
from leaflets.outreach.wax_path import WaxPath, make_wax_path
from leaflets.outreach.word_search import Direction, WordSearch, layout_for, make_word_search
from leaflets.vocabulary import AgeBand

WORDS_FILE = "macros/school_words.html"
FEWEST_LETTERS, MOST_LETTERS = 3, 8
"""Letters of a word in the word search: what a child of that age spells out; common practice, no source."""
FEWEST_SYLLABLE_SIGNS = 2
"""The same where a letter of the grid is a consonant with its vowel, so that everyday words have two."""
_OF_SYLLABLE_SIGNS = frozenset({"Bengali", "Gurmukhi"})
MOST_WORDS = 12
STATEMENTS_A_PAGE: dict[AgeBand, int] = {"5-7": 4, "7-11": 5}
"""How many of the true and false sentences stand on a page; our own choice, by what fits beside the word search."""
_MAZE_CELLS: dict[AgeBand, tuple[int, int]] = {"5-7": (9, 6), "7-11": (14, 9)}
"""Columns and rows of the path of wax; common practice, no source."""
_NOT_IN_A_WORD = "·"


@dataclass(frozen=True)
class Statement:
    """A sentence that is so or not, with the reason; both as their messages."""

    is_so: bool
    text: str
    why: str


@dataclass(frozen=True)
class ActivityPage:
    """What stands on one child's page. `labels`: the parts of the ear, shuffled, as their messages."""

    number: int
    search: WordSearch
    path: WaxPath
    statements: tuple[Statement, ...]
    labels: tuple[str, ...]

    @property
    def straight(self) -> bool:
        """Whether every word of the search may run across or down alone."""
        return all(word.direction in (Direction.ACROSS, Direction.DOWN) for word in self.search.words)

    @property
    def solved_grid(self) -> tuple[tuple[str, ...], ...]:
        """The grid with nothing but the words in it."""
        kept = {cell for word in self.search.words for cell in word.cells}
        return tuple(
            tuple(letter if (column, row) in kept else _NOT_IN_A_WORD for column, letter in enumerate(line))
            for row, line in enumerate(self.search.grid)
        )


def all_statements(words: Words, band: AgeBand) -> tuple[Statement, ...]:
    """Return every sentence of an age band that is true or false, in the order of the template."""
    return tuple(Statement(*one) for one in lists_in(words, WORDS_FILE, "statements")[band])


def parts_of_the_ear(words: Words, band: AgeBand) -> tuple[str, ...]:
    """Return the parts that the drawing of an age band points out, from its left dot to its right one."""
    return tuple(lists_in(words, WORDS_FILE, "labels")[band])


def activity_pages(
    words: Words, recorder: MessageRecorder, band: AgeBand, block_id: str, seed: str, class_size: int
) -> tuple[ActivityPage, ...]:
    """Return the pages of a class set, numbered from 1; the same arguments give the same pages on every machine.

    Raises:
        LeafletError: a word of the list is unfit for a word search, each with the place of the list.

    """
    language, searched = _words_to_search(words, recorder, band, block_id)
    return _pages(
        band,
        language,
        searched,
        all_statements(words, band),
        parts_of_the_ear(words, band),
        seed,
        class_size,
    )


def _words_to_search(
    words: Words, recorder: MessageRecorder, band: AgeBand, block_id: str
) -> tuple[str, tuple[str, ...]]:
    """Return the language of the letters, and the words."""
    source = lists_in(words, WORDS_FILE, "word_lists")[band]
    recorder.message(source, block_id)
    message = next(one for one in recorder.used if one.source == source)
    if recorder.language in PSEUDO_LOCALES or message.state in ("missing", "stale"):
        # A made-up language has no letters of its own; what is not translated is stopped by a check, not here.
        return "en", tuple(word.strip() for word in source.split(","))
    searched = tuple(word.strip() for word in message.translated.replace("،", ",").split(","))
    place = message.place or place_of_message(words, message)
    problems = list(_unfit(searched, recorder.language, place))
    if problems:
        raise LeafletError(problems)
    try:
        _search(band, recorder.language, searched, "1")
    except LeafletError as error:
        raise LeafletError(Problem(place, one.message, one.hint) for one in error.problems) from None
    return recorder.language, searched


def _unfit(searched: Sequence[str], language: str, place: str) -> list[Problem]:
    problems = []
    if len(searched) > MOST_WORDS:
        problems.append(
            Problem(place, f"{len(searched)} words are too many for a word search", f"take {MOST_WORDS} at most")
        )
    letters = alphabet(language)
    fewest = FEWEST_SYLLABLE_SIGNS if letters.script in _OF_SYLLABLE_SIGNS else FEWEST_LETTERS
    known: dict[tuple[str, ...], int] = {}
    for number, word in enumerate(searched, 1):
        try:
            spelt = letters_of(word, letters)
        except ValueError as error:
            hint = "write single words, parted by commas, in the letters of the language"
            problems.append(Problem(place, f"word {number}, '{word}', {error}", hint))
            continue
        first = known.setdefault(spelt, number)
        if first != number:
            problems.append(Problem(place, f"word {number}, '{word}', is also word {first}", "take one of them out"))
        elif not fewest <= (count := len(spelt)) <= MOST_LETTERS:
            hint = f"take a word of {fewest} to {MOST_LETTERS} letters"
            problems.append(Problem(place, f"word {number}, '{word}', has {count} letters", hint))
    return problems


def _search(band: AgeBand, language: str, searched: Sequence[str], seed: str) -> WordSearch:
    layout = layout_for(band, language)
    unwanted = unwanted_words(language)
    return make_word_search(searched, language, layout.columns, layout.rows, seed, layout.directions, unwanted)


@lru_cache(maxsize=8)
def _pages(
    band: AgeBand,
    language: str,
    searched: tuple[str, ...],
    statements: tuple[Statement, ...],
    labels: tuple[str, ...],
    seed: str,
    class_size: int,
) -> tuple[ActivityPage, ...]:
    columns, rows = _MAZE_CELLS[band]
    pages = []
    for number in range(1, class_size + 1):
        own = f"{seed}\n{number}"
        pages.append(
            ActivityPage(
                number=number,
                search=_search(band, language, searched, own),
                path=make_wax_path(columns, rows, own),
                statements=_some_of_each(statements, STATEMENTS_A_PAGE[band], Draws("true or false", own)),
                labels=_shuffled(labels, Draws("label the ear", own)),
            )
        )
    return tuple(pages)


def _some_of_each(statements: Sequence[Statement], count: int, draws: Draws) -> tuple[Statement, ...]:
    """Draw sentences, of the true and of the false as even as can be, so that no page is answered by one word."""
    true = _shuffled([one for one in statements if one.is_so], draws)
    false = _shuffled([one for one in statements if not one.is_so], draws)
    of_true = count // 2 + (draws.below(2) if count % 2 else 0)
    return _shuffled([*true[:of_true], *false[: count - of_true]], draws)


def _shuffled(things: Sequence[Drawn], draws: Draws) -> tuple[Drawn, ...]:
    """Shuffle by drawing each place (Fisher and Yates)."""
    left = list(things)
    return tuple(left.pop(draws.below(len(left))) for _ in things)
