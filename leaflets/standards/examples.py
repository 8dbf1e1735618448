"""Changes by which the examples of checklists are made from the evidence of a routine visit."""

import re
from collections.abc import Callable

from leaflets.checks.changes import block_added
from leaflets.checks.evidence import Evidence

_IMAGE = re.compile(r"<img [^>]*/>")
_LIST = re.compile(r"</?(?:ul|ol)\b")
_ONE_SENTENCE = (
    '<!DOCTYPE html><html><body><section class="part" id="today"><h2>Ears</h2><p>An ear has skin inside.</p></section>'
    "</body></html>"
)


def unchanged(evidence: Evidence) -> Evidence:
    """Return the leaflet as it is."""
    return evidence


def block_with(html: str) -> Callable[[Evidence], Evidence]:
    """Return a change that adds a block with these words."""
    return lambda evidence: block_added(evidence, "ears/candles", (), html)


def changed_page(old: str, new: str) -> Callable[[Evidence], Evidence]:
    """Return a change of the page around the blocks. It raises ValueError where `old` does not stand there."""

    def change(evidence: Evidence) -> Evidence:
        if old not in evidence.leaflet.html:
            raise ValueError(f"'{old}' does not stand on the page")
        return evidence.with_page(evidence.leaflet.html.replace(old, new), evidence.leaflet.blocks)

    return change


def nothing_to_do(evidence: Evidence) -> Evidence:
    """Return a leaflet that says one thing alone, speaks to nobody, and has no table and no picture."""
    return evidence.with_page(_ONE_SENTENCE, ())


def without_pictures(evidence: Evidence) -> Evidence:
    """Return the leaflet without its pictures."""
    return evidence.with_page(_IMAGE.sub("", evidence.leaflet.html), evidence.leaflet.blocks)


def without_lists(evidence: Evidence) -> Evidence:
    """Return the leaflet with each list's items in running order and no list."""
    return evidence.with_page(
        _LIST.sub(lambda match: match[0].replace("ul", "div").replace("ol", "div"), evidence.leaflet.html),
        evidence.leaflet.blocks,
    )


def main_message_in_plain_type(evidence: Evidence) -> Evidence:
    """Return the leaflet with its main message no longer in bold."""
    page = re.sub(r'(<p class="main">)<strong>(.*?)</strong>', r"\1\2", evidence.leaflet.html)
    return evidence.with_page(page, evidence.leaflet.blocks)
