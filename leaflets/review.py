"""What somebody who signs words off looks at, and the line that an approval adds to the clinic's ledger.

That is each message with its source, its words, what they say in English, what the checks find, and the finished block.
"""

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from leaflets import demo
from leaflets.catalogue import SOURCE_LANGUAGE, Catalogue, SourceMessage, block_of_context, sign_off_hash
from leaflets.catalogue.back_translation import parse_back_translation
from leaflets.compose.leaflet import compose
from leaflets.compose.messages import source_messages
from leaflets.compose.tree import parse_fragment, text_of
from leaflets.content import READERS, Content, locales_folder
from leaflets.errors import LeafletError
from leaflets.locale_files import locale_in, read_text
from leaflets.model import Finding, MessageState
from leaflets.pipeline import situation_of
from leaflets.plan import plan
from leaflets.signoff import Entry
from leaflets.translation_checks import check_translation
from leaflets.visits import read_visit
from leaflets.vocabulary import CHILD_READERS
from leaflets.word_checks import pairs_of

_VISITS = Path(demo.__file__).parent / "visits"
_PRINTED = ("h3", "p", "li", "th", "td")


@dataclass(frozen=True)
class ToReview:
    """One message that waits for a sign-off.

    Attributes:
        message: as the templates hold it.
        words: the translation, one text for each plural form; empty for the source language.
        back: what each says in English; None: nobody put it back.
        findings: of the checks of translations.

    """

    message: SourceMessage
    words: tuple[str, ...]
    back: tuple[str | None, ...]
    findings: tuple[Finding, ...]

    @property
    def may_be_approved(self) -> bool:
        """Whether no check forbids it."""
        return all(finding.severity != "stop" for finding in self.findings)


def to_review(content: Content, locale: str, block: str | None = None) -> Iterator[ToReview]:
    """Return the messages of a locale that have current words nobody approved, safety-critical ones first.

    `block`: only those of this block. None: all.

    Raises:
        LeafletError: the locale has no catalogue.

    """
    if locale not in content.languages:
        raise LeafletError.at("locale", f"there is no catalogue for '{locale}'", "run: leaflets words update --new")
    catalogue, approved = content.catalogue(locale), content.ledger.approved
    messages = [
        one for one in source_messages(content.words) if block is None or block_of_context(one.key.context) == block
    ]
    waiting = tuple(one for one in messages if state_of(one, catalogue, approved) == "draft")
    in_order = tuple(sorted(waiting, key=lambda message: not message.safety))
    if catalogue is None:
        yield from (ToReview(message, (), (), ()) for message in in_order)
        return
    back = _back_translation(locale)
    for pair in pairs_of(in_order, catalogue, content.glossary(locale)):
        words = pair.translation.forms
        said = tuple(back.get((pair.message.key.context, form)) for form in words)
        yield ToReview(pair.message, words, said, check_translation(pair))


def state_of(message: SourceMessage, catalogue: Catalogue | None, approved: frozenset[str]) -> MessageState:
    """Return the state of a message. `catalogue` None: in the source language."""
    if catalogue is None:
        return "reviewed" if sign_off_hash(SOURCE_LANGUAGE, message.key, ()) in approved else "draft"
    return catalogue.state(message.key, approved)


def approval(content: Content, locale: str, one: ToReview, who: str, role: str, when: datetime.datetime) -> Entry:
    """Return the line by which somebody approves words.

    Raises:
        LeafletError: a check forbids the words, or the same person translated them.

    """
    if not one.may_be_approved:
        finding = next(finding for finding in one.findings if finding.severity == "stop")
        raise LeafletError.at(finding.place, f"cannot be approved: {finding.message}", finding.hint)
    entry = Entry("approved", locale, one.message.key, one.words, who, role, when)
    catalogue = content.catalogue(locale)
    content.ledger.require_another(entry, catalogue.translator if catalogue else "")
    return entry


def finished_block(content: Content, locale: str, context: str) -> str | None:
    """Return the words of a block as a leaflet prints them, a paragraph a line, for the first reader who gets it.

    `context`: of the words that are reviewed; those for children are shown as a child gets them. None: no visit of the
    demonstration has them.
    """
    block = block_of_context(context)
    readers = READERS if block == context else CHILD_READERS
    for source in sorted(_VISITS.glob("*.toml")):
        for reader in readers:
            visit = read_visit(source, content, {"language": locale, "reader": reader})
            planned = plan(visit, content.rule_book.rules.values())
            if block in {one.id for one in planned.blocks}:
                situation, _ = situation_of(visit, planned, content)
                leaflet = compose(content.words, planned.blocks, situation, content.clinic.accent).leaflet
                html = next(one.html for one in leaflet.blocks if one.id == block)
                parts = (one for one in parse_fragment(html, block).iter() if one.tag in _PRINTED)
                return "\n".join(text for part in parts if (text := text_of(part)))
    return None


def _back_translation(locale: str) -> Mapping[tuple[str, str], str]:
    path = locale_in(locales_folder(), locale).back_translation
    return parse_back_translation(read_text(path), str(path)) if path.is_file() else {}
