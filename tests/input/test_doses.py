"""Doses outside the bounds of each agent. The bounds below are read from the sources named, not from numbers.toml."""

from collections.abc import Callable

import pytest

Edited = Callable[..., str]
Refused = Callable[..., list[str]]

# Agent, field, smallest and largest that a practitioner may record.
BOUNDS = [
    # NHS earwax build-up: 2 to 3 drops, 3 to 4 times a day, 3 to 5 days; Northern Care Alliance, ear wax: 4 to 5 drops,
    # mostly 14 days; Sheffield Children's: once a day. One drop, for a small child: common practice, no source.
    ("olive-oil", "drops_per_dose", 1, 5),
    ("olive-oil", "times_a_day", 1, 4),
    ("olive-oil", "days", 3, 14),
    ("almond-oil", "drops_per_dose", 1, 5),
    ("almond-oil", "times_a_day", 1, 4),
    ("almond-oil", "days", 3, 14),
    # NE Devon formulary 12.1.3: 5 days at most; UK labels of 5% drops: 3 to 4 drops; Norfolk and Waveney 2022: 3 to 4
    # times a day.
    ("sodium-bicarbonate", "drops_per_dose", 1, 5),
    ("sodium-bicarbonate", "times_a_day", 1, 4),
    ("sodium-bicarbonate", "days", 3, 5),
    # NICE CKS Earwax (from memory): 3 to 4 drops, 3 to 4 times a day, 3 to 5 days; up to 14: as oil, common practice.
    ("saline", "drops_per_dose", 1, 5),
    ("saline", "times_a_day", 1, 4),
    ("saline", "days", 3, 14),
    # United States labels of 6.5% drops: 5 to 10 drops, twice a day, up to 4 days; UK labels: once or twice a day.
    ("urea-hydrogen-peroxide", "drops_per_dose", 1, 10),
    ("urea-hydrogen-peroxide", "times_a_day", 1, 2),
    ("urea-hydrogen-peroxide", "days", 3, 4),
    # UK product licence PL 03105-0108: 4 drops, twice a day, 2 to 3 days.
    ("docusate", "drops_per_dose", 1, 4),
    ("docusate", "times_a_day", 1, 2),
    ("docusate", "days", 2, 3),
]


def _planned(edited: Edited, agent: str, *doses: str) -> str:
    plan = "\n".join([f'drops = "{agent}"', 'drops_for = ["right"]', *doses])
    return edited(('drops = "none"', plan))


@pytest.mark.parametrize(("agent", "field", "smallest", "largest"), BOUNDS)
def test_a_dose_out_of_bounds_is_refused_on_either_side(
    agent: str, field: str, smallest: int, largest: int, edited: Edited, refused: Refused
) -> None:
    for value in (smallest - 1, largest + 1):
        (line,) = refused(_planned(edited, agent, f"{field} = {value}"))
        # By hand from tests/visits/routine.toml: drops stands on line 42, drops_for on 43, the dose on 44.
        assert line.startswith(f"visit.toml:44 [plan.{field}]: {value} is out of bounds for {agent} (")
        assert f"allowed: {smallest} to {largest} " in line


@pytest.mark.parametrize(("agent", "field", "smallest", "largest"), BOUNDS)
def test_a_dose_on_the_bounds_is_taken(
    agent: str, field: str, smallest: int, largest: int, edited: Edited, explained: Callable[[str], int]
) -> None:
    for value in (smallest, largest):
        assert explained(_planned(edited, agent, f"{field} = {value}")) in (0, 1)


def test_every_part_of_a_dose_is_told_at_once(edited: Edited, refused: Refused) -> None:
    lines = refused(_planned(edited, "docusate", "drops_per_dose = 9", "times_a_day = 0", "days = 1000000"))
    assert [line.split(": ")[0] for line in lines] == [
        "visit.toml:44 [plan.drops_per_dose]",
        "visit.toml:45 [plan.times_a_day]",
        "visit.toml:46 [plan.days]",
    ]


@pytest.mark.parametrize("value", ["2.5", '"3"', "true", "[3]", "-3", "1e3", "nan"])
def test_a_dose_that_is_no_whole_number_is_refused(value: str, edited: Edited, refused: Refused) -> None:
    (line,) = refused(_planned(edited, "olive-oil", f"drops_per_dose = {value}"))
    assert line.startswith("visit.toml:44 [plan.drops_per_dose]: ")
