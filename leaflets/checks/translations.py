"""TRAN01 to TRAN15: the translation of each message that the leaflet uses.

What: a message without words in the language, or whose source changed since (TRAN01), stops the leaflet, unless it is
in no safety block and the clinic allows a marked gap; so do numbers
(TRAN02), values (TRAN03), plural forms (TRAN04), sides (TRAN05), negations in safety blocks (TRAN06), English that was
left (TRAN09), mixed scripts (TRAN11), steering characters (TRAN12), characters without a font (TRAN14) and two messages
of a block that say the same (TRAN15). Terms (TRAN07), sentences (TRAN08), marks (TRAN10) and length (TRAN13) warn.
Why: one wrong sentence in a language that nobody at the desk reads is found by nobody.
Source: named in each module of leaflets/translation_checks.
"""

from collections.abc import Iterator
from dataclasses import replace

from leaflets.catalogue import Catalogue, MessageKey, SourceMessage, Translation, block_of_context
from leaflets.checks.evidence import Evidence, Example
from leaflets.compose.places import place_of_message
from leaflets.compose.words import BlockWords
from leaflets.model import Finding, Message, MessageState, Severity
from leaflets.translation_checks import TRANSLATION_CHECKS, Pair, check_translation, parse_glossary, same_words
from leaflets.translation_checks.same_words import CODE as SAME_WORDS

MISSING = "TRAN01"
CODES = (MISSING, *sorted((*(module.CODE for module in TRANSLATION_CHECKS), SAME_WORDS)))


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find messages without a translation, and what is wrong with those that have one."""
    if evidence.situation.catalogue is None:
        return
    pairs = []
    for message in evidence.leaflet.messages:
        if message.state in ("missing", "stale"):
            yield _missing(evidence, message)
        if message.state != "missing":
            pairs.append(_pair(evidence, message))
    for pair in pairs:
        yield from check_translation(pair)
    yield from same_words.find(pairs)


def _missing(evidence: Evidence, message: Message) -> Finding:
    source, language = f"“{message.source}”", evidence.situation.language
    gap = evidence.situation.allow_gaps and not _is_safety(evidence.block_words.get(block_of_context(message.context)))
    severity: Severity = "warn" if gap else "stop"
    place = message.place or place_of_message(evidence.words, message)
    if message.state == "stale":
        said, hint = f"the words for {source} are of an older source", "translate it anew: leaflets words update"
        return Finding(MISSING, severity, place, said, hint)
    said = f"{source} is not in '{language}'" if message.place is None else f"{source} lacks words in '{language}'"
    return Finding(MISSING, severity, place, said, f"translate it in the catalogue of '{language}'")


def _pair(evidence: Evidence, message: Message) -> Pair:
    catalogue = evidence.situation.catalogue
    assert catalogue is not None, "the leaflet is translated"
    key = MessageKey(message.context, message.source, message.plural)
    block = evidence.block_words.get(block_of_context(message.context))
    return Pair(
        SourceMessage(key, (), (), None if block is None else block.section, _is_safety(block), ()),
        catalogue.translations[key],
        evidence.situation.language,
        evidence.situation.glossary,
        evidence.missing_characters,
    )


def _is_safety(block: BlockWords | None) -> bool:
    return block is None or block.safety


_CHANGED = "Wipe only the outer ear, with a damp cloth."
_COUNTED = "Put %(drops)s drop in each ear."
_STALE: tuple[str, ...] = ()
_ENGLISH_GLOSSARY = """
[language]
name = "English"
register = "plain"
quotes = ["\u201c", "\u201d"]
[words]
left = ["left"]
right = ["right"]
both = ["both", "each", "either"]
negation = ["not", "no", "never", "nothing", "none", "without", "cannot"]
[[term]]
source = "cloth"
translation = "cloth"
forms = ["cloth"]
"""

_Changed = tuple[str, ...] | None


def _translated(evidence: Evidence, changed: _Changed, locale: str, source: str) -> Evidence:
    """Return the leaflet as one in another language whose words are the English ones, but for those of one message.

    `changed`: the forms of the message with this source; None: it has none; empty: they are of an older source.
    """
    translations: dict[MessageKey, Translation] = {}
    messages = []
    for message in (*evidence.leaflet.messages, *_MORE_MESSAGES):
        key = MessageKey(message.context, message.source, message.plural)
        forms: _Changed = (message.source,) if message.plural is None else (message.source, message.plural)
        state: MessageState = "draft"
        if message.source == source:
            state = "missing" if changed is None else "draft" if changed else "stale"
            forms = changed if changed is None or changed else forms
        if forms is not None:
            translations[key] = Translation(key, forms, stale=state == "stale", place="leaflets.po:1")
        messages.append(replace(message, state=state))
    situation = replace(
        evidence.situation,
        language=locale,
        catalogue=Catalogue(locale, "", translations),
        glossary=parse_glossary("glossary.toml", _ENGLISH_GLOSSARY),
    )
    leaflet = replace(evidence.leaflet, language=locale, messages=tuple(messages))
    return replace(evidence, situation=situation, leaflet=leaflet)


def _example(name: str, changed: _Changed, locale: str = "en-US", source: str = _CHANGED) -> Example:
    return Example(name, lambda evidence: _translated(evidence, changed, locale, source))


# What a routine leaflet does not say: a counted message, a side, a negation.
_MORE_MESSAGES = (
    Message(_COUNTED, _COUNTED, "drops/course", "Put %(drops)s drops in each ear.", "drops/course"),
    Message("Keep your left ear dry.", "", "after/keep-dry", None, "after/keep-dry"),
    Message("Do not swim.", "", "after/keep-dry", None, "after/keep-dry"),
)

GOOD = (
    Example("in the source language", lambda evidence: evidence),
    _example("every message has its words", (_CHANGED,)),
)
BAD = (
    _example("a message without words", None),
    _example("of an older source", _STALE),
    _example("a figure too many", ("Wipe only the outer ear, with 3 damp cloths.",)),
    _example("a value lost", ("Put a drop in each ear.", "Put drops in each ear."), source=_COUNTED),
    _example("a plural form missing", ("Put %(drops)s drops in each ear.",), source=_COUNTED),
    _example("another side", ("Keep your right ear dry.",), source="Keep your left ear dry."),
    _example("a negation lost", ("Swim.",), source="Do not swim."),
    _example("another word for a term", ("Wipe only the outer ear, with a damp rag.",)),
    _example("a sentence added", ("Wipe the outer ear. Use a damp cloth.",)),
    _example("English left in Bengali", (_CHANGED,), "bn"),
    _example("two spaces", ("Wipe only the  outer ear, with a damp cloth.",)),
    _example("a Cyrillic letter", ("Wipe only the outer e\u0430r, with a damp cloth.",)),
    _example("a steering character", ("Wipe only the outer\u200f ear, with a damp cloth.",)),
    _example("very long", (f"Wipe {'only ' * 20}the outer ear, with a damp cloth.",)),
    _example("a character without a font", ("Wipe only the outer ear, with a damp cloth \u4e00.",)),
    _example("the words of another message", ("Even a small slip can cut, or push wax in.",)),
)
