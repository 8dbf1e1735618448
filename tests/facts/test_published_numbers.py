"""numbers.toml against the published values, written down here once more and apart from it.

Each line: the number, the least and the most that a source gives (a value that lies outside is a fault), and the
source. Where a clinic may choose, both bounds of the setting are held to the widest range published.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from leaflets.clinic import DEMO_FOLDER, FILE_NAME
from leaflets.content import Content, load_content
from leaflets.course import dose_faults
from leaflets.errors import LeafletError


@dataclass(frozen=True)
class Published:
    """The usual range, to which the value is held, and the widest range, to which the bounds are held."""

    number: str
    usual: tuple[float, float]
    widest: tuple[float, float]
    source: str


def _same(number: str, value: float, source: str) -> Published:
    return Published(number, (value, value), (value, value), source)


DROPS = [
    # Widest drops 1 to 5 (peroxide 10), times 1 to 4, days 14 at most (bicarbonate 5, peroxide 4): NHS earwax build-up,
    # NE Devon formulary 12.1.3, Northern Care Alliance, AAO-HNSF 2017; peroxide: United States labels.
    Published("olive-oil.drops-per-dose", (2, 3), (1, 5), "NHS earwax build-up 2 to 3; Northern Care Alliance 4 to 5"),
    Published("olive-oil.times-a-day", (3, 4), (1, 4), "NHS earwax build-up 3 to 4; NHS Tayside 2"),
    Published("olive-oil.days", (3, 5), (3, 14), "NHS earwax build-up 3 to 5; local protocols to 14"),
    Published("olive-oil.soak-minutes", (5, 10), (5, 15), "NHS earwax build-up 5 to 10; Sheffield Children's 10 to 15"),
    Published("almond-oil.drops-per-dose", (2, 3), (1, 5), "NHS earwax build-up"),
    Published("almond-oil.times-a-day", (3, 4), (1, 4), "NHS earwax build-up; NHS Tayside 2"),
    Published("almond-oil.days", (3, 5), (3, 14), "NHS earwax build-up; Norfolk and Waveney 7 to 10"),
    Published("almond-oil.soak-minutes", (5, 10), (5, 15), "NHS earwax build-up"),
    Published("sodium-bicarbonate.drops-per-dose", (3, 4), (1, 5), "UK labels 3 to 4; NE Devon 3"),
    Published(
        "sodium-bicarbonate.times-a-day", (2, 3), (1, 4), "UK labels 2; NE Devon 2 to 3; Norfolk and Waveney 3 to 4"
    ),
    Published("sodium-bicarbonate.days", (3, 5), (3, 5), "NHS Tayside 3 to 5; UK labels, NE Devon 5 at most"),
    Published("sodium-bicarbonate.soak-minutes", (3, 5), (1, 10), "UK labels: a few minutes; figure: common practice"),
    Published("saline.drops-per-dose", (3, 4), (1, 5), "NICE CKS Earwax (from memory)"),
    Published("saline.times-a-day", (3, 4), (1, 4), "NICE CKS Earwax (from memory)"),
    Published("saline.days", (3, 5), (3, 14), "NICE CKS Earwax (from memory)"),
    Published("saline.soak-minutes", (5, 10), (5, 10), "NICE CKS Earwax (from memory)"),
    Published("urea-hydrogen-peroxide.drops-per-dose", (5, 10), (1, 10), "UK labels 5; United States labels 5 to 10"),
    Published("urea-hydrogen-peroxide.times-a-day", (1, 2), (1, 2), "UK labels 1 to 2; United States labels 2"),
    Published(
        "urea-hydrogen-peroxide.days", (3, 4), (3, 4), "UK labels 3 to 4 (from memory); United States labels 4 at most"
    ),
    Published("urea-hydrogen-peroxide.soak-minutes", (5, 10), (5, 10), "United States labels: at least 5"),
    Published("docusate.drops-per-dose", (4, 4), (1, 4), "UK product licence PL 03105-0108; child: fewer"),
    Published("docusate.times-a-day", (2, 2), (1, 2), "UK product licence PL 03105-0108"),
    Published("docusate.days", (2, 3), (2, 3), "UK product licence PL 03105-0108"),
    Published("docusate.soak-minutes", (3, 5), (1, 10), "UK product licence: head tilted; figure: common practice"),
    _same("bottle.drops-per-millilitre", 20, "common practice, no source"),
    _same("bottle.discard-weeks", 4, "UK labels of 5% sodium bicarbonate"),
    Published("upkeep.times-a-week", (1, 2), (1, 2), "Northern Care Alliance 2, practices 1; AAO-HNSF 2017: not daily"),
    Published("upkeep.drops", (1, 2), (1, 3), "practices' pages: 1 to 2, or a few"),
]

AFTER = [
    Published("dry.days-after-microsuction", (1, 2), (0, 5), "pages of ear clinics: 24 to 48 hours, 0 to 5 days"),
    Published("dry.days-after-instruments", (1, 2), (0, 5), "as after microsuction: common practice, no source"),
    Published("dry.days-after-irrigation", (4, 5), (4, 7), "pages of ear clinics: 4 to 5 days"),
    Published("dry.weeks-after-perforation", (8, 9), (6, 13), "NHS perforated eardrum: about 2 months"),
    Published("swim.after-infection-days", (7, 10), (7, 10), "NICE CKS Otitis externa (second-hand)"),
    _same("swim.cold-water-celsius", 19, "CMAJ 2019;191:E396"),
    Published("hair-dryer.centimetres", (8, 10), (8, 10), "Sussex Community, NICE CKS Otitis externa (second-hand)"),
    Published("expect.muffled-days", (0, 7), (0, 7), "Int J Audiol 2020;59:713: gone when tested again at 1 week"),
    Published("expect.tinnitus-days", (1, 2), (1, 2), "NHS Tayside LN0311: a day or two"),
    Published("expect.infection-watch-days", (2, 3), (2, 3), "pages of ear clinics: first 2 to 3 days"),
    _same("expect.wax-leaves-weeks", 2, "NHS earwax build-up"),
    _same("review.months-for-glue-ear", 3, "NHS glue ear; NICE NG233"),
]

RED_FLAGS = [
    _same("help.sudden-loss-days", 3, "NICE NG98 1.1.2: over 3 days or less"),
    _same("help.seen-within-hours", 24, "NICE NG98 1.1.2"),
    Published("help.soon-weeks", (1, 2), (0, 2), "NICE NG98 1.1: within 2 weeks"),
    _same("help.earache-days", 3, "NHS ear infections"),
    Published("help.bleeding-minutes", (10, 15), (10, 15), "first aid (from memory)"),
    _same("help.infant-fever-celsius", 38, "NHS ear infections; NENC Healthier Together"),
    _same("help.infant-months", 3, "NHS ear infections; NENC Healthier Together"),
]

AGES = [
    # Whole years, the last one included: "under 1" is up to 0.
    _same("age.no-drops-up-to", 0, "UK labels: not under 1 year"),
    _same("age.drops-only-if-ordered-up-to", 2, "AboutKidsHealth: none under 3 years unless a clinician says so"),
    _same("age.bicarbonate-only-if-supervised-up-to", 4, "UK labels of sodium bicarbonate: under 5 years supervised"),
    _same("age.peroxide-only-with-doctor-up-to", 11, "United States labels: under 12 years only with a doctor"),
    _same("age.no-peroxide-up-to", 4, "matrix of states and agents: not from 1 to 4 years"),
    _same("age.no-aspirin-up-to", 15, "NHS ear infections: no aspirin under 16 years"),
    _same("age.infant-up-to", 0, "NENC Healthier Together: under 3 months"),
    _same("age.toddler-up-to", 1, "NHS ear infections: under 2 years"),
    _same("age.small-objects-up-to", 7, "RCEM Learning: three in four are under 8 years"),
    Published("age.pull-down-up-to", (2, 2), (1, 3), "children's hospitals: down and back under about 3 years"),
]

LIFE = [
    Published(
        "hearing-aid.check-months-minimum", (3, 3), (3, 6), "AAO-HNSF Cerumen Impaction 2017, Table 4: 3 to 6 months"
    ),
    Published(
        "hearing-aid.check-months-maximum", (6, 6), (3, 6), "AAO-HNSF Cerumen Impaction 2017, Table 4: 3 to 6 months"
    ),
    _same("hearing-aid.wax-trap-months", 3, "AAO-HNSF Cerumen Impaction 2017, Table 4"),
    _same("sound.volume-percent", 60, "WHO, Make Listening Safe, 2015: 60 per cent at most"),
    _same("sound.hours-a-week", 40, "WHO-ITU H.870 (from memory)"),
    Published("sound.level-decibels", (80, 80), (75, 80), "WHO-ITU H.870 (from memory): 80 adults, 75 children"),
]

READING = [
    Published("leaflet.core-words", (500, 500), (0, 600), "one sheet of A4: common practice, no source"),
]

ALL = [*DROPS, *AFTER, *RED_FLAGS, *AGES, *LIFE, *READING]


@pytest.mark.parametrize("published", ALL, ids=lambda published: published.number)
def test_a_number_and_its_bounds_lie_within_what_is_published(content: Content, published: Published) -> None:
    number = content.rule_book.numbers[published.number]
    assert published.usual[0] <= number.value <= published.usual[1], published.source
    assert published.widest[0] <= number.minimum <= number.maximum <= published.widest[1], published.source


# What the project decides for itself, or what a clinic knows of its own service: there is nothing to hold it to.
_OUR_OWN = {
    "age.child-up-to",
    "age.drops-only-if-confirmed-from",
    "age.drops-only-if-confirmed-up-to",
    "bottle.millilitres",
    "content.review-years",
    "expect.dizzy-minutes",
    "expect.sore-hours",
    "leaflet.pages",
    "leaflet.pages-a5",
    "leaflet.pages-easy-read",
    "leaflet.pages-large-print",
    "referral.routine-weeks-to-hear",
    "referral.urgent-days-to-hear",
    "reminder.afternoon-hour",
    "reminder.bedtime-hour",
    "reminder.midday-hour",
    "reminder.morning-hour",
}


def test_every_number_is_held_to_a_published_value_or_is_one_of_our_own(content: Content) -> None:
    assert {published.number for published in ALL} | _OUR_OWN == set(content.rule_book.numbers)


def test_inv_12_no_dose_outside_the_published_bounds_can_be_recorded(content: Content) -> None:
    numbers = content.rule_book.numbers
    fields = {"drops_per_dose": "drops-per-dose", "times_a_day": "times-a-day", "days": "days"}
    tried = 0
    for published in DROPS:
        agent, name = published.number.split(".")
        for field, number_name in fields.items():
            if name != number_name:
                continue
            outside = (int(published.widest[0]) - 1, int(published.widest[1]) + 1, 0, -1, 100)
            for value in outside:
                assert dose_faults({"drops": agent, "drops_for": ["left"], field: value}, numbers), (
                    agent,
                    field,
                    value,
                )
                tried += 1
            inside = range(int(numbers[published.number].minimum), int(numbers[published.number].maximum) + 1)
            assert not any(dose_faults({"drops": agent, field: value}, numbers) for value in inside)
    assert tried == 6 * 3 * 5


# The invariant's own ceilings, whatever a source says: drops 5 (peroxide 10), times 4, days 14 (bicarbonate 5,
# peroxide 4).
_CEILINGS = {"drops-per-dose": 5, "times-a-day": 4, "days": 14}
_TIGHTER = {
    "urea-hydrogen-peroxide.drops-per-dose": 10,
    "sodium-bicarbonate.days": 5,
    "urea-hydrogen-peroxide.days": 4,
}


def _faults_of(folder: Path, settings: Mapping[str, float]) -> str:
    """Return all that is said against a clinic's folder with these numbers; empty: it is taken."""
    text = (DEMO_FOLDER / FILE_NAME).read_text("utf-8")
    assert text.rstrip().endswith("[numbers]"), "the settings go below the last table"
    lines = [f'"{number}" = {value}' for number, value in settings.items()]
    (folder / FILE_NAME).write_text("\n".join([text.rstrip(), *lines, ""]), "utf-8")
    try:
        load_content(folder)
    except LeafletError as error:
        return str(error)
    return ""


def test_inv_12_every_agents_dose_stays_under_the_ceilings_also_in_a_clinics_settings(
    content: Content, tmp_path: Path
) -> None:
    beyond = {}
    for number_id, number in content.rule_book.numbers.items():
        group, name = number_id.split(".")
        if name not in _CEILINGS or group == "upkeep":
            continue
        ceiling = _TIGHTER.get(number_id, _CEILINGS[name])
        assert 1 <= number.minimum <= number.value <= number.maximum <= ceiling, number_id
        beyond[number_id] = ceiling + 1
    assert len(beyond) == 6 * 3
    said = _faults_of(tmp_path, beyond)
    assert [number_id for number_id in beyond if number_id not in said] == []


@pytest.mark.parametrize(
    ("number", "value"),
    [
        ("upkeep.times-a-week", 7),
        ("upkeep.times-a-week", 3),
        ("help.seen-within-hours", 48),
        ("sound.volume-percent", 80),
    ],
)
def test_a_clinic_cannot_set_a_number_beyond_what_is_published(tmp_path: Path, number: str, value: int) -> None:
    assert number in _faults_of(tmp_path, {number: value})


def test_a_clinic_can_set_a_number_within_its_bounds(tmp_path: Path) -> None:
    assert _faults_of(tmp_path, {"upkeep.times-a-week": 2, "dry.days-after-irrigation": 4}) == ""


def test_a_clinic_cannot_set_half_a_day_of_drops(tmp_path: Path) -> None:
    # Days are counted: a part of one would break the calendar later, far from the file that holds it.
    assert "olive-oil.days" in _faults_of(tmp_path, {"olive-oil.days": 4.5})


def test_the_shortest_time_between_ear_checks_is_not_longer_than_the_longest_in_any_setting(tmp_path: Path) -> None:
    settings = {"hearing-aid.check-months-minimum": 6, "hearing-aid.check-months-maximum": 3}
    assert "hearing-aid.check-months" in _faults_of(tmp_path, settings)
