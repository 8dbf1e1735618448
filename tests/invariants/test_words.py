"""What the words of leaflets never say, and what they always do: every block, both readers.

INV-08, INV-11, INV-13, INV-20, INV-27, INV-28, INV-30, INV-53, INV-54, INV-57, INV-69 and INV-73. Where a list of words
names no source, it is common practice, no source.
"""

import calendar
import re
from collections.abc import Callable, Iterator

import pytest
from composing import Composed
from outcomes import CLEARED, NOTHING_AGAINST, confirmation

from leaflets.compose.tree import text_of
from leaflets.content import READERS, Content

Leaflets = list[Composed]
Compose = Callable[..., Composed]


def _sentences(leaflets: Leaflets) -> Iterator[tuple[str, str]]:
    """Each sentence, item and heading once, with the block that says it."""
    seen: set[tuple[str, str]] = set()
    for one in leaflets:
        said = [("layout", one.leaflet.main_message)]
        said += [(block.id, unit.text) for block in one.leaflet.blocks for unit in block.units]
        for pair in said:
            if pair not in seen:
                seen.add(pair)
                yield pair


def _saying(leaflets: Leaflets, pattern: str) -> list[tuple[str, str]]:
    return [(block, text) for block, text in _sentences(leaflets) if re.search(pattern, text, re.IGNORECASE)]


def test_inv_00_the_leaflets_looked_at_show_every_block_to_every_reader(leaflets: Leaflets, content: Content) -> None:
    shown = {(one.leaflet.reader, block.id) for one in leaflets for block in one.leaflet.blocks}
    assert shown == {(reader, block) for reader in READERS for block in content.words.blocks}


_TOOLS = r"\b(syringes?|bulbs?|jets?|candles?|vacuums?|scoops?|cameras?|spiral|buds?|swabs?|hairpins?|pins|tweezers)\b"
_IMPERATIVE = r"^(please )?(use|try|put|take|clean|squirt|push|insert|buy|keep|let|ask for)\b"
_AGAINST = r"\b(not|never|no|avoid|out)\b"


def test_inv_08_no_sentence_tells_anybody_to_use_a_tool_in_an_ear(leaflets: Leaflets) -> None:
    # NICE NG98 1.2, BSA Practice Guidance Aural Care 2021, NHS earwax build-up.
    naming = _saying(leaflets, _TOOLS)
    assert len({block for block, _ in naming}) > 4
    for block, text in naming:
        if re.search(_IMPERATIVE, text, re.IGNORECASE):
            assert re.search(_AGAINST, text, re.IGNORECASE), (block, text)


def test_inv_11_aspirin_is_named_only_to_forbid_it_and_no_dose_of_a_painkiller_is_given(
    leaflets: Leaflets, composed: Compose
) -> None:
    # NHS ear infections: no aspirin under 16.
    for block, text in _saying(leaflets, "aspirin"):
        assert re.search(r"\bno aspirin\b", text, re.IGNORECASE), (block, text)
    assert _saying(leaflets, r"paracetamol|ibuprofen|\b\d+ ?(mg|milligrams?|tablets?)\b") == []
    for age in (0, 3, 15, None):
        sore = {**CLEARED, "left.events": ("pain",), "reader": "carer", "person.age_years": age}
        sore = {field: value for field, value in sore.items() if value is not None}
        words = composed({**sore, "left.canal": (), "person.habits": ()}).block_text("pain/relief")
        assert "no aspirin" in words
        assert "15 or under" in words


def test_inv_13_upkeep_is_never_daily(leaflets: Leaflets, content: Content) -> None:
    # AAO-HNSF Cerumen Impaction 2017, Table 2.
    said = [text for block, text in _sentences(leaflets) if block == "drops/upkeep"]
    assert any("a week at most" in text for text in said)
    assert not [text for text in said if re.search(r"daily|every day|each day|a day\b(?! a week)", text)]
    assert content.rule_book.numbers["upkeep.times-a-week"].maximum <= 2


def test_inv_20_water_is_never_offered_as_a_way_to_clean_an_ear(leaflets: Leaflets) -> None:
    # NHS Tayside RefGuide Ear wax; AAO-HNSF Cerumen Impaction 2017.
    for block, text in _saying(leaflets, r"\b(irrigat\w+|rinse\w*|flush\w*|squirt\w*|wash(ed)? out|washed the ear)\b"):
        assert block == "today/findings" or re.search(r"\b(not|never)\b", text), (block, text)


def test_inv_27_nobody_is_told_to_blow_up_their_ears_and_fluid_is_looked_at_again_after_three_months(
    leaflets: Leaflets,
) -> None:
    # NHS glue ear; NICE NG233.
    assert not _saying(leaflets, r"balloon|inflat|valsalva")
    assert all("not" in text for _, text in _saying(leaflets, r"pinch|nose and blow"))
    told = [text for block, text in _sentences(leaflets) if block == "eardrum/fluid" and "3 months" in text]
    assert len(told) == len(READERS)


def test_inv_28_no_medicine_is_named_for_fluid_or_infection(leaflets: Leaflets) -> None:
    # NICE NG91 and NG233.
    assert not _saying(
        leaflets, r"antibiotic|antihistamine|steroid|decongestant|osteopath|acetic|vinegar|alcohol drops"
    )


_PROMISES = (
    r"\bwill (clear|hear|heal|improve|work|help|get better|go away|be (fine|clear|better))\b"
    r"|\bcures?\b|guarantee|\balways (clears?|works?|heals?|helps?)|\bcompletely\b|\bcertain to\b|\bbound to\b"
)


def test_inv_30_nothing_is_promised(leaflets: Leaflets) -> None:
    # AAO-HNSF Cerumen Impaction 2017, patient questions; no share of people is quoted without its source.
    assert _saying(leaflets, _PROMISES) == []
    assert {block for block, _ in _saying(leaflets, r"per cent|%|\b\d+ (in|out of) \d+\b")} <= {"life/loud-sound"}


def test_inv_53_one_main_message_stands_first_and_is_one_sentence(leaflets: Leaflets) -> None:
    # CDC Clear Communication Index, items 1 and 2.
    for one in leaflets:
        order = [element for element in one.page.iter() if element.tag in ("h1", "p", "h2", "section")]
        mains = [element for element in order if "main" in element.get("class", "").split()]
        assert len(mains) == 1
        first_section = next(place for place, element in enumerate(order) if element.tag == "section")
        assert order.index(mains[0]) < first_section
        assert text_of(mains[0]) == one.leaflet.main_message.strip()
        assert len(re.findall(r"[.!?](\s|$)", text_of(mains[0]))) == 1


def test_inv_53_the_steps_are_numbered(leaflets: Leaflets) -> None:
    with_drops = [one for one in leaflets if "drops/how-to" in one.block_ids]
    assert with_drops
    for one in with_drops:
        lists = list(one.block("drops/how-to").iter("ol"))
        assert len(lists) == 1
        assert len(list(lists[0])) >= 5


@pytest.mark.parametrize("reader", READERS)
def test_inv_53_each_step_asks_for_one_thing(composed: Compose, reader: str) -> None:
    # PEMAT item 22. A second sentence, or "and" with another imperative, is a second thing.
    words = composed({**NOTHING_AGAINST, "reader": reader}).block("drops/how-to")
    second = re.compile(r", and (keep|put|press|wipe|pull|stay|do|turn)\b|[.!?] [A-Z]", re.IGNORECASE)
    steps = [text_of(step) for step in words.iter("li")]
    assert [step for step in steps if second.search(step)] == []


def test_inv_54_no_time_is_told_on_the_24_hour_clock(leaflets: Leaflets) -> None:
    # Most adults read "9:15" but not "14:15": OpenLearn, numeracy of adults in England.
    for one in leaflets:
        assert not re.search(r"\b(1[3-9]|2[0-3])[:.][0-5]\d\b|\b\d{1,2} ?hrs\b", one.page_text)


def test_inv_54_a_course_tells_its_first_day_last_day_and_times_of_day(composed: Compose) -> None:
    words = composed({**NOTHING_AGAINST, "plan.days": 5, "plan.times_a_day": 3}).block_text("drops/course")
    # The visit is on Wednesday 25 November 2026; five days from the day after: 26, 27, 28, 29, 30 November.
    assert "Start on Thursday, 26 November 2026 and stop after Monday, 30 November 2026." in words
    assert [day for day in ("Thu 26", "Fri 27", "Sat 28", "Sun 29", "Mon 30") if day not in words] == []
    assert [time for time in ("Morning", "Afternoon", "Bedtime") if time not in words] == []


@pytest.mark.parametrize(
    ("block", "outcome"),
    [
        ("after/keep-dry", CLEARED),
        ("canal/infection", {**CLEARED, "left.canal": ("infected",)}),
        ("next/referral", {**CLEARED, "plan.referral": "ent-urgent"}),
        ("next/referral", {**CLEARED, "plan.referral": "ent-routine"}),
        ("next/referral", {**CLEARED, "plan.referral": "audiology"}),
    ],
)
def test_inv_54_whoever_is_told_how_many_days_to_wait_is_told_until_which_day(
    composed: Compose, block: str, outcome: dict[str, object]
) -> None:
    # PEMAT item 7, CDC item 17: the reader calculates nothing.
    words = composed(outcome).block(block)
    dates = [element for element in words.iter("span") if "date" in element.get("class", "").split()]
    assert dates, text_of(words)


# Words for one thing: the one that is used, and others that would be a second name for it.
_ONE_WORD_EACH = [
    (r"\beardrums?\b", r"\bear drums?\b|(?<!ear)\bdrums?\b|tympanic|membrane"),
    (r"\bcotton buds?\b", r"cotton swabs?|ear buds?|cotton tips?|q-tips?"),
    (r"\bear wax|\bwax\b", r"cerumen"),
    (r"emergency department", r"\bhospital\b|casualty|\bA&E\b|emergency room"),
    (r"ear surgery team", r"ear surgeon"),
    (r"get-help box", r"help panel|red box|warning box"),
    (r"\bblood thinners?\b", r"anticoagul"),
    (r"\bnext visit\b", r"check-up|appointment"),
    (r"\bhearing aids?\b", r"hearing device|ear aid"),
    (r"\bGP\b", r"family physician|general practitioner"),
]


@pytest.mark.parametrize(("word", "others"), _ONE_WORD_EACH)
def test_inv_57_one_thing_has_one_name(leaflets: Leaflets, content: Content, word: str, others: str) -> None:
    # Inclusion Europe, Information for all; ISO 24495-1. Blocks may meet in one leaflet, so all are looked at together.
    assert any(re.search(word, one.page_text, re.IGNORECASE) for one in leaflets)
    assert _saying(leaflets, others) == []
    assert content.words.blocks


# Names that may stand with a capital inside a sentence: the doctor, days, months, and the invented clinic's name.
_KNOWN_NAMES = frozenset({"GP", *calendar.day_name, *calendar.month_name, "Harrow", "Lane", "Ear", "Room"})


def test_inv_69_no_brand_is_named(leaflets: Leaflets) -> None:
    # Common practice, no source: a brand is a name with a capital inside a sentence, or carries a sign.
    for block, text in _sentences(leaflets):
        if block == "next/contact":
            continue  # the clinic's own lines, one after another
        assert not re.search(r"[®™©]", text), (block, text)
        inside = re.findall(r"(?<=[a-z,;] )[A-Z]\w+", text)
        assert set(inside) <= _KNOWN_NAMES, (block, text)


_FORBIDS = re.compile(
    r"^(please )?(do not|never|use no|put nothing|push nothing|give no|avoid)\b|^keep .* out\b(?! of their reach)",
    re.IGNORECASE,
)
_REASON = re.compile(
    r"\b(because|as|so|which|where|since|can|cannot|could|may|harms?|hurts?|germs|safe way|in case)\b", re.IGNORECASE
)


def test_inv_73_every_warning_says_why_in_the_same_sentence_or_the_next(leaflets: Leaflets) -> None:
    # CDC Clear Communication Index, item 13.
    unexplained = set()
    for one in leaflets:
        for block in one.leaflet.blocks:
            texts = [unit.text for unit in block.units if unit.kind in ("sentence", "item")]
            for place, text in enumerate(texts):
                beside = texts[max(0, place - 1) : place + 2]
                if _FORBIDS.search(text) and not any(_REASON.search(sentence) for sentence in beside):
                    unexplained.add((block.id, one.leaflet.reader, text))
    assert unexplained == set()


def test_inv_07_the_words_after_ear_surgery_name_the_surgery_team_with_and_without_drops(composed: Compose) -> None:
    operated = {**NOTHING_AGAINST, "left.history": ("ear-surgery",), "plan.referral": "ent-routine"}
    for plan in ({"plan.drops": "none", "plan.drops_for": ()}, confirmation("wax/softening-drops")):
        assert "ear surgery team" in composed({**operated, **plan}).block_text("health/ear-surgery")
