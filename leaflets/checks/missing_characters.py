"""FONT01: characters that no font of ours can draw.

What: a character of the leaflet that none of the fonts has.
Why: it prints as an empty box, in a name, a dose or a warning.
Source: the character tables of the fonts in leaflets/render/fonts; common practice, no source.
"""

from collections.abc import Iterator

from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.tree import parse_fragment
from leaflets.model import Finding

CODE = "FONT01"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find such characters in each block, and in the page around them."""
    texts = [("the page", evidence.layout_place, "".join(evidence.tree_outside_blocks().itertext()))]
    for block in evidence.leaflet.blocks:
        place = evidence.place(block.id)
        texts.append((block.id, place, "".join(parse_fragment(block.html, place).itertext())))
    for name, place, text in texts:
        missing = evidence.missing_characters(text)
        if missing:
            shown = ", ".join(f"{character} (U+{ord(character):04X})" for character in missing)
            message = f"no font has these characters of {name}: {shown}"
            yield Finding(CODE, "stop", place, message, "write them another way, or add a font that has them")


GOOD = (
    Example("a routine leaflet", lambda evidence: evidence),
    Example(
        "Polish letters",
        lambda evidence: evidence.with_block_text("next/contact", "<h3>", "<p>Zażółć gęślą jaźń</p><h3>"),
    ),
)
BAD = (
    Example(
        "a character of a block", lambda evidence: evidence.with_block_text("next/contact", "<h3>", "<p>\u4e2d</p><h3>")
    ),
    Example(
        "a character of the page",
        lambda evidence: evidence.with_page(
            evidence.leaflet.html.replace("</body>", "<p>\u4e2d</p></body>"), evidence.leaflet.blocks
        ),
    ),
)
