"""The Clear Communication Index: what a program can tell of it; a person judges the rest.

The items stand in cci.toml. Each answer carries what it rests on.
"""

from collections.abc import Callable, Mapping

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import text_of
from leaflets.standards import page
from leaflets.standards.answers import names_an_action, nothing_to_work_out, parts_have_headings
from leaflets.standards.checklist import Found, JudgedStandard, load_checklist
from leaflets.standards.checklist import judge as judge_checklist
from leaflets.standards.examples import (
    block_with,
    changed_page,
    main_message_in_plain_type,
    nothing_to_do,
    unchanged,
    without_lists,
    without_pictures,
)

_FALLS_WITH_ITEM_1 = "falls with item 1: there is not one main message"


def judge(evidence: Evidence) -> JudgedStandard:
    """Answer every item of the index for a leaflet."""
    return judge_checklist(load_checklist("cci.toml"), COMPUTED, evidence)


def _one_main_message(evidence: Evidence) -> Found:
    found = [text_of(one) for one in page.main_messages(evidence)]
    if len(found) != 1 or not found[0]:
        return Found("not met", f"main messages: {len([one for one in found if one])}")
    return Found("met", f"the page marks one: “{found[0]}”")


def _at_the_top(evidence: Evidence) -> Found:
    found = page.main_messages(evidence)
    if len(found) != 1:
        return Found("not met", _FALLS_WITH_ITEM_1)
    if page.stands_before_parts(evidence):
        return Found("met", "it stands before the first part")
    return Found("not met", "it stands below the start of the first part")


def _catches_the_eye(evidence: Evidence) -> Found:
    found = page.main_messages(evidence)
    if len(found) != 1:
        return Found("not met", _FALLS_WITH_ITEM_1)
    bold = page.is_bold(found[0])
    return Found("met" if bold else "not met", f"in bold: {'yes' if bold else 'no'}")


def _visual(evidence: Evidence) -> Found:
    if len(page.main_messages(evidence)) != 1:
        return Found("not met", _FALLS_WITH_ITEM_1)
    count = len(page.pictures(evidence))
    return Found("met", f"pictures: {count}") if count else Found("not met", "the leaflet has no picture")


def _lists(evidence: Evidence) -> Found:
    count = len(page.lists(evidence))
    return Found("met" if count else "not met", f"lists of two items or more: {count}")


def _message_and_orders_say_who(evidence: Evidence) -> Found:
    if not page.is_english(evidence):
        return Found("for a person to judge", "the passive is known in English alone")
    found = page.passives([*(text_of(one) for one in page.main_messages(evidence)), *page.orders(evidence)])
    said = f"passives in the main message and the orders: {'; '.join(found) or 'none found'}"
    return Found("not met" if found else "for a person to judge", said)


COMPUTED: Mapping[int, Callable[[Evidence], Found]] = {
    1: _one_main_message,
    2: _at_the_top,
    3: _catches_the_eye,
    4: _visual,
    5: names_an_action,
    6: _message_and_orders_say_who,
    8: _lists,
    9: parts_have_headings,
    12: names_an_action,
    17: nothing_to_work_out,
}
"""What the program finds, by the number of the item."""

_MAIN = '<p class="main">'
_two_messages = changed_page(_MAIN, f"{_MAIN}<strong>Keep dry.</strong></p>{_MAIN}")
_no_message = changed_page(_MAIN, '<p class="other">')
_ROUTINE = (Example("a routine leaflet", unchanged),)
_NO_MESSAGE = (Example("no main message", _no_message), Example("two main messages", _two_messages))


def _message_below(evidence: Evidence) -> Evidence:
    moved = changed_page(_MAIN, '<p class="other">')(evidence)
    return changed_page("</body>", f"{_MAIN}<strong>Keep dry.</strong></p></body>")(moved)


GOOD: Mapping[int, tuple[Example, ...]] = {
    number: _ROUTINE if number != 4 else (Example("a picture, for a person", unchanged),) for number in COMPUTED
}
"""Examples in which an item is not found unmet."""

BAD: Mapping[int, tuple[Example, ...]] = {
    1: _NO_MESSAGE,
    2: (*_NO_MESSAGE, Example("a main message at the end", _message_below)),
    3: (*_NO_MESSAGE, Example("a main message in plain type", main_message_in_plain_type)),
    4: (*_NO_MESSAGE, Example("no picture", without_pictures)),
    5: (Example("nothing to do", nothing_to_do),),
    6: (Example("an order with a passive", block_with("<h3>Ears</h3><p>Call us if it was cleaned.</p>")),),
    8: (Example("no list", without_lists),),
    9: (Example("a block without a heading", block_with("<p>Wax is good.</p>")),),
    12: (Example("nothing to do", nothing_to_do),),
    17: (Example("a dose to work out", block_with("<h3>Ears</h3><p>Take half the usual dose.</p>")),),
}
"""Examples in which an item is found not met."""
