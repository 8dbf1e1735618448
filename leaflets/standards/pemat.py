"""PEMAT-P, on how printed material is understood and acted on: what a program can tell; a person judges the rest.

The items stand in pemat-p.toml. Each answer carries what it rests on. Limits that the tool leaves open are our own
choice and stand below, with where they come from.
"""

from collections.abc import Callable, Mapping

from leaflets.checks.changes import course_added
from leaflets.checks.evidence import Evidence, Example
from leaflets.readability.segment import split_units
from leaflets.standards import page
from leaflets.standards.answers import names_an_action, nothing_to_work_out, parts_have_headings
from leaflets.standards.checklist import Found, JudgedStandard, load_checklist
from leaflets.standards.checklist import judge as judge_checklist
from leaflets.standards.examples import (
    block_with,
    changed_page,
    nothing_to_do,
    unchanged,
    without_lists,
    without_pictures,
)

MOST_SENTENCES = 7
"""More sentences than this in one paragraph are no short piece. Our own choice: common practice, no source."""

MOST_LIST_ITEMS = 9
"""More items than this in one list are no short piece. Source: EU readability guideline 2009, from memory."""

LARGEST_SHARE_OF_PASSIVES = 0.2
"""A larger share of passives is no active voice. Source: PEMAT user's guide, agree at 80 to 100 %, from memory."""

_SHOWN = 3


def judge(evidence: Evidence) -> JudgedStandard:
    """Answer every item of PEMAT-P for a leaflet."""
    return judge_checklist(load_checklist("pemat-p.toml"), COMPUTED, evidence)


def _short_pieces(evidence: Evidence) -> Found:
    longest = max((len(split_units(text, evidence.leaflet.language)) for text in page.paragraphs(evidence)), default=0)
    items = max((len(one.findall("li")) for one in page.lists(evidence)), default=0)
    said = (
        f"longest paragraph: {longest} sentences (at most {MOST_SENTENCES}); "
        f"longest list: {items} items (at most {MOST_LIST_ITEMS})"
    )
    return Found("met" if longest <= MOST_SENTENCES and items <= MOST_LIST_ITEMS else "not met", said)


def _eye_is_drawn(evidence: Evidence) -> Found:
    bold = [one for one in page.main_messages(evidence) if page.is_bold(one)]
    lists = len(page.lists(evidence))
    said = f"main message in bold: {'yes' if bold else 'no'}; lists: {lists}"
    return Found("met" if bold and lists else "not met", said)


def _pictures(evidence: Evidence) -> Found:
    count = len(page.pictures(evidence))
    return Found("met", f"pictures: {count}") if count else Found("not applicable", "the leaflet has no picture")


def _table_headings(evidence: Evidence) -> Found:
    tables = page.tables(evidence)
    if not tables:
        return Found("not applicable", "the leaflet has no table")
    without = sum(table.find(".//th") is None for table in tables)
    return Found("not met" if without else "met", f"tables: {len(tables)}, without headings: {without}")


def _table_use(evidence: Evidence) -> Found:
    count = len(page.tables(evidence))
    return Found("met", f"tables: {count}") if count else Found("not applicable", "the leaflet has no table")


def _speaks_to_the_reader(evidence: Evidence) -> Found:
    if not page.is_english(evidence):
        return Found("for a person to judge", "how a reader is spoken to is known in English alone")
    found = page.sentences_to_the_reader(evidence)
    if not found:
        return Found("not met", "no sentence speaks to the reader")
    return Found("met", f"{len(found)} sentences speak to the reader, among them: {'; '.join(found[:_SHOWN])}")


def _steps(evidence: Evidence) -> Found:
    numbered = [one for one in page.lists(evidence) if one.tag == "ol"]
    steps = sum(len(one.findall("li")) for one in numbered)
    planned = evidence.situation.course is not None
    said = f"a course of drops: {'yes' if planned else 'no'}; numbered lists: {len(numbered)}, steps: {steps}"
    return Found("not met" if planned and not numbered else "met", said)


def _thing_to_fill_in(evidence: Evidence) -> Found:
    boxes = sum("box" in one.get("class", "").split() for one in evidence.page_tree().iter())
    planned = evidence.situation.course is not None
    said = f"a course of drops: {'yes' if planned else 'no'}; boxes to tick: {boxes}"
    return Found("not met" if planned and not boxes else "met", said)


def _says_who_does_what(evidence: Evidence) -> Found:
    if not page.is_english(evidence):
        return Found("for a person to judge", "the passive is known in English alone")
    sentences = page.prose(evidence)
    found = page.passives(sentences)
    most = len(sentences) * LARGEST_SHARE_OF_PASSIVES
    said = f"passives found in {len(sentences)} sentences: {len(found)}" + (f", as “{found[0]}”" if found else "")
    return Found("not met" if len(found) > most else "for a person to judge", said)


COMPUTED: Mapping[int, Callable[[Evidence], Found]] = {
    5: _says_who_does_what,
    7: nothing_to_work_out,
    8: _short_pieces,
    9: parts_have_headings,
    12: _eye_is_drawn,
    16: _pictures,
    17: _pictures,
    18: _pictures,
    19: _table_headings,
    20: names_an_action,
    21: _speaks_to_the_reader,
    22: _steps,
    23: _thing_to_fill_in,
    25: _table_use,
}
"""What the program finds, by the number of the item."""


def _paragraph(sentences: int) -> Callable[[Evidence], Evidence]:
    return block_with(f"<h3>Ears</h3><p>{'Wax is good. ' * sentences}</p>")


def _list(items: int) -> Callable[[Evidence], Evidence]:
    return block_with(f"<h3>Ears</h3><ul>{'<li>Wax is good.</li>' * items}</ul>")


def _course_in_steps(evidence: Evidence) -> Evidence:
    return block_with("<h3>Drops</h3><ol><li>Sit.</li><li>Lie.</li></ol>")(course_added(evidence))


def _course_without_steps(evidence: Evidence) -> Evidence:
    planned = course_added(evidence)
    html = planned.leaflet.html.replace("<ol", "<ul").replace("</ol>", "</ul>")
    return planned.with_page(html, planned.leaflet.blocks)


def _course_without_boxes(evidence: Evidence) -> Evidence:
    return changed_page('<span class="box"></span>', "")(course_added(evidence))


def _passives(evidence: Evidence) -> Evidence:
    return block_with(f"<h3>Ears</h3><p>{'Your ear was cleaned. ' * len(page.prose(evidence))}</p>")(evidence)


_sum_left = block_with("<h3>Ears</h3><p>Take half the usual dose.</p>")

GOOD: Mapping[int, tuple[Example, ...]] = {
    5: (Example("a routine leaflet, for a person", unchanged),),
    7: (Example("a routine leaflet, for a person", unchanged),),
    8: (
        Example("a routine leaflet", unchanged),
        Example("a paragraph at the limit", _paragraph(MOST_SENTENCES)),
        Example("a list at the limit", _list(MOST_LIST_ITEMS)),
    ),
    9: (Example("a routine leaflet", unchanged),),
    12: (Example("a routine leaflet", unchanged),),
    16: (Example("pictures, for a person", unchanged),),
    17: (Example("pictures, for a person", unchanged),),
    18: (Example("pictures, for a person", unchanged),),
    19: (
        Example("tables with headings", block_with("<h3>Days</h3><table><tr><th>Day</th><td>Monday</td></tr></table>")),
    ),
    20: (Example("a routine leaflet", unchanged),),
    21: (Example("a routine leaflet", unchanged),),
    22: (
        Example("no course", unchanged),
        Example("a course in steps", _course_in_steps),
    ),
    23: (Example("no course", unchanged), Example("a course with boxes", course_added)),
    25: (Example("a table, for a person", unchanged),),
}
"""Examples in which an item is not found unmet."""

BAD: Mapping[int, tuple[Example, ...]] = {
    5: (Example("every second sentence a passive", _passives),),
    7: (Example("a dose to work out", _sum_left),),
    8: (
        Example("a paragraph over the limit", _paragraph(MOST_SENTENCES + 1)),
        Example("a list over the limit", _list(MOST_LIST_ITEMS + 1)),
    ),
    9: (Example("a block without a heading", block_with("<p>Wax is good.</p>")),),
    12: (
        Example("a main message in plain type", changed_page('<p class="main">', '<p class="other">')),
        Example("no list", without_lists),
    ),
    16: (Example("no picture: does not apply", without_pictures),),
    17: (Example("no picture: does not apply", without_pictures),),
    18: (Example("no picture: does not apply", without_pictures),),
    19: (Example("a table without headings", block_with("<h3>Days</h3><table><tr><td>Monday</td></tr></table>")),),
    20: (Example("nothing to do", nothing_to_do),),
    21: (Example("nobody is spoken to", nothing_to_do),),
    22: (Example("a course, and no steps", _course_without_steps),),
    23: (Example("a course, and no boxes", _course_without_boxes),),
    25: (Example("no table: does not apply", nothing_to_do),),
}
"""Examples in which an item is found not met, or not applicable."""
