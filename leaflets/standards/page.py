"""What the page of a leaflet shows that a checklist asks about: headings, lists, tables, pictures, words to act on."""

from collections.abc import Iterator
from xml.etree import ElementTree as ET

from leaflets.checks.evidence import Evidence
from leaflets.compose.tree import text_of
from leaflets.readability.segment import base_language, words
from leaflets.readability.trouble import passive
from leaflets.readability.trouble.number_trouble import sums_left as find_sums_left
from leaflets.readability.trouble.reading import read

_HEADINGS = frozenset({"h1", "h2", "h3", "h4"})
_PROSE = ("sentence", "item")

# Verbs with which an English order to the reader begins; a sentence that begins otherwise is not counted.
_ORDERS = frozenset(
    {
        "ask",
        "avoid",
        "breathe",
        "bring",
        "call",
        "carry",
        "change",
        "check",
        "clean",
        "come",
        "cover",
        "do",
        "don't",
        "drink",
        "dry",
        "eat",
        "empty",
        "fill",
        "find",
        "finish",
        "follow",
        "get",
        "give",
        "go",
        "hold",
        "keep",
        "lay",
        "leave",
        "let",
        "lie",
        "look",
        "make",
        "move",
        "never",
        "note",
        "open",
        "place",
        "please",
        "press",
        "pull",
        "put",
        "read",
        "record",
        "rest",
        "ring",
        "see",
        "sit",
        "start",
        "stay",
        "stop",
        "take",
        "talk",
        "tell",
        "throw",
        "tick",
        "try",
        "turn",
        "use",
        "wait",
        "warm",
        "wash",
        "watch",
        "wear",
        "wipe",
        "write",
    }
)
_READER = frozenset({"you", "your", "yours", "yourself"})


def main_messages(evidence: Evidence) -> list[ET.Element]:
    """Return what the page marks as its main message."""
    return [one for one in evidence.page_tree().iter("p") if "main" in one.get("class", "").split()]


def stands_before_parts(evidence: Evidence) -> bool:
    """Return whether the main message comes before the first part of the page."""
    for one in evidence.page_tree().iter():
        if one.tag == "section":
            return False
        if one.tag == "p" and "main" in one.get("class", "").split():
            return True
    return False


def is_bold(element: ET.Element) -> bool:
    """Return whether all words of an element are in bold."""
    strong = element.find("strong")
    return strong is not None and bool(text_of(strong)) and text_of(strong) == text_of(element)


def parts(evidence: Evidence) -> dict[str, ET.Element]:
    """Return the parts and the blocks of the page that hold words, by what names them in a message."""
    named: dict[str, ET.Element] = {}
    for element in evidence.page_tree().iter():
        block = element.get("data-block")
        if element.tag == "section" and text_of(element):
            named[f"part {element.get('id', 'without a name')}"] = element
        elif element.tag == "div" and block is not None and text_of(element):
            named[block] = element
    return named


def has_heading(part: ET.Element) -> bool:
    """Return whether a part has a heading, or is a table whose rows have one each."""
    if any(one.tag in _HEADINGS and text_of(one) for one in part.iter()):
        return True
    rows = list(part.iter("tr"))
    return bool(rows) and all(row.find("th") is not None for row in rows)


def lists(evidence: Evidence) -> list[ET.Element]:
    """Return the lists of the page with two items or more."""
    return [one for one in evidence.page_tree().iter() if one.tag in ("ul", "ol") and len(one.findall("li")) > 1]


def tables(evidence: Evidence) -> list[ET.Element]:
    """Return the tables of the page."""
    return list(evidence.page_tree().iter("table"))


def pictures(evidence: Evidence) -> list[ET.Element]:
    """Return the pictures of the page."""
    return list(evidence.page_tree().iter("img"))


def paragraphs(evidence: Evidence) -> Iterator[str]:
    """Return the text of each paragraph and list item, as it stands."""
    for one in evidence.page_tree().iter():
        if one.tag in ("p", "li") and "fact" not in one.get("class", "").split():
            yield text_of(one)


def is_english(evidence: Evidence) -> bool:
    """Return whether the leaflet's words are English, which those about orders and address need."""
    return base_language(evidence.leaflet.language) == "en"


def orders(evidence: Evidence) -> list[str]:
    """Return the English sentences that tell the reader to do something, or not to."""
    return [text for text in prose(evidence) if _is_order(text)]


def passives(texts: list[str]) -> list[str]:
    """Return the English passives in sentences, as they are written."""
    return [one.words for one in passive.find(read(texts, "en"))]


def sums_left(evidence: Evidence) -> list[str]:
    """Return the words of English sentences that leave a sum to the reader."""
    reading = read(prose(evidence), "en")
    return [one.words for index, unit in enumerate(reading.units) for one in find_sums_left(reading, index, unit)]


def sentences_to_the_reader(evidence: Evidence) -> list[str]:
    """Return the English sentences that speak to the reader, orders among them."""
    return [
        text for text in prose(evidence) if _is_order(text) or _READER & {word.text.casefold() for word in words(text)}
    ]


def prose(evidence: Evidence) -> list[str]:
    """Return the sentences and list items of the page, as they stand."""
    of_blocks = [unit for block in evidence.leaflet.blocks for unit in block.units]
    return [unit.text for unit in (*evidence.units_outside_blocks(), *of_blocks) if unit.kind in _PROSE]


def _is_order(text: str) -> bool:
    found = words(text)
    return bool(found) and found[0].text.casefold() in _ORDERS and not text.rstrip().endswith("?")
