"""Draws beside `sha256sum` of GNU coreutils, and seeds that are none."""

from typing import Any

import pytest

from leaflets.errors import LeafletError
from leaflets.outreach.seeded import Draws, seed_text

# printf 'word search\n0\nhand' | sha256sum, and with 1 for 0; sixteen figures a number.
HAND = [
    "818b92c8d711ed40",
    "c9eda01265fd60b7",
    "2d56976b88da8ccc",
    "e9175f7c0a53eb57",
    "284140c45a6a2bf9",
    "a9d357ac58f0e853",
    "3a40da0b9b7a2bb0",
    "eab71e3f7ed1900c",
]


def test_the_numbers_are_those_of_sha256_over_purpose_block_and_seed() -> None:
    draws = Draws("word search", "hand")
    assert [draws.below(1 << 64) for _ in HAND] == [int(figures, 16) for figures in HAND]


def test_a_number_above_the_last_whole_multiple_is_drawn_again() -> None:
    """With the bound 0xd000000000000000 only numbers below it are even: the fourth, e917…, and the eighth are not."""
    draws = Draws("word search", "hand")
    drawn = [draws.below(0xD000000000000000) for _ in range(6)]
    assert drawn == [int(figures, 16) for figures in HAND if figures < "d"]


def test_every_number_below_a_bound_is_drawn_about_as_often() -> None:
    """6000 draws of six: 1000 each; the standard deviation is sqrt(6000 * 1/6 * 5/6) = 29, and five of them are 145."""
    draws = Draws("word search", 1)
    drawn = [draws.below(6) for _ in range(6000)]
    assert {number: abs(drawn.count(number) - 1000) < 145 for number in set(drawn)} == dict.fromkeys(range(6), True)


def test_purposes_have_draws_of_their_own() -> None:
    assert Draws("word search", 1).below(1 << 64) != Draws("wax path", 1).below(1 << 64)


def test_a_seed_is_what_it_looks_like() -> None:
    assert seed_text("x", -3) == seed_text("x", "-3")
    assert seed_text("x", "Cafe\u0301") == seed_text("x", "Caf\u00e9")


@pytest.mark.parametrize("seed", ["", "  \n", None, True, 1.5, b"1", "\ud800"])
def test_what_is_no_seed_is_refused(seed: Any) -> None:
    with pytest.raises(LeafletError) as refused:
        Draws("wax path", seed)
    (problem,) = refused.value.problems
    assert problem.place == "wax path [seed]"
    assert problem.hint
