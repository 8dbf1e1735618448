"""READ10 to READ18: what makes a sentence of the leaflet hard to read, as `leaflets grade` finds it in any text.

What: a sentence or list item too long for the reader and format (READ10), and what a writer can change in the words: a
hard word (READ11), two names for one thing (READ12), a passive (READ13), a double negation (READ14), brackets and
slashes (READ15), trouble with numbers (READ16), capitals (READ17), an abbreviation (READ18). In other languages only
what needs no list of words, and length only where the language's own was measured.
Why: a grade says that a text is hard; a writer needs to know where.
Source: named in each module of leaflets/readability/trouble; lengths: leaflets/readability/targets.toml.
"""

from collections.abc import Iterator

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.places import message_of, place_of_message
from leaflets.model import Finding, Unit
from leaflets.readability.targets import target_for
from leaflets.readability.trouble import KINDS, Trouble, find_trouble, stems_of

CODES = tuple(kind.CODE for kind in KINDS)

_READ_AS_PROSE = ("sentence", "item")


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find what is hard in the blocks, and in the page around them."""
    situation = evidence.situation
    of_blocks = (unit for block in evidence.leaflet.blocks for unit in block.units)
    units = [unit for unit in (*evidence.units_outside_blocks(), *of_blocks) if unit.kind in _READ_AS_PROSE]
    target = target_for(situation.reader, situation.format)
    for trouble in find_trouble(
        [unit.text for unit in units],
        situation.language,
        longest_unit_words=target.unit_words_in(situation.language),
        stems=stems_of([unit.text for unit in units], [unit.kind == "item" for unit in units]),
    ):
        unit = units[trouble.unit]
        place = _place(evidence, unit, trouble)
        yield Finding(trouble.code, "warn", place, f"{trouble.message}, in “{unit.text}”", trouble.hint)


def _place(evidence: Evidence, unit: Unit, trouble: Trouble) -> str:
    messages = tuple(message for message in evidence.leaflet.messages if message.block == unit.block)
    message = message_of(unit.text, trouble.start, messages)
    if message is not None:
        return place_of_message(evidence.words, message)
    return evidence.place(unit.block) if unit.block in evidence.block_words else evidence.layout_place


def _with(name: str, html: str) -> Example:
    return Example(name, lambda evidence: evidence.with_block_text("ears/nothing-inside", "</h3>", f"</h3>{html}"))


def _of_length(count: int) -> Example:
    return _with(f"a sentence of {count} words", f"<p>{' '.join(['ear'] * count)}.</p>")


GOOD = (Example("a routine leaflet", lambda evidence: evidence), _of_length(20))
BAD = (
    _of_length(21),
    _with("an item too long with its opening", f"<p>Call us if:</p><ul><li>{'ear ' * 18}</li></ul>"),
    _with("a hard word", "<p>Do not commence it.</p>"),
    _with("two names", "<p>Your eardrum is whole.</p><p>Water can hurt the drum.</p>"),
    _with("a passive", "<p>Your ear was cleaned today.</p>"),
    _with("a double negation", "<p>Do not forget to call us.</p>"),
    _with("brackets", "<p>Keep your ear dry (do not swim).</p>"),
    _with("a percentage alone", "<p>It helps 40% of people.</p>"),
    _with("capitals", "<p>Do NOT swim.</p>"),
    _with("an abbreviation", "<p>The ENT team will call.</p>"),
)
