"""Every check of translations on the whole catalogue of a locale, as a translator or a clinic asks for it."""

from collections.abc import Iterator

from leaflets.catalogue import SOURCE_LANGUAGE, Catalogue, SourceMessage
from leaflets.checks import in_order
from leaflets.checks.translations import MISSING
from leaflets.compose.messages import source_messages
from leaflets.content import Content
from leaflets.errors import LeafletError, did_you_mean
from leaflets.model import Finding
from leaflets.render.fonts import missing_characters
from leaflets.translation_checks import Glossary, Pair, check_translation, same_words

IN_VAIN = "TRAN16"
"""The code of words that no leaflet can use."""


def check_words(content: Content, locale: str) -> list[Finding]:
    """Return what is wrong with the translations of a locale, the gravest first.

    Raises:
        LeafletError: the locale has no catalogue.

    """
    catalogue = content.catalogue(locale)
    if catalogue is None:
        known = [language for language in content.languages if language != SOURCE_LANGUAGE]
        raise LeafletError.at("locale", f"there is no catalogue for '{locale}'", did_you_mean(locale, known))
    messages = source_messages(content.words)
    pairs = pairs_of(messages, catalogue, content.glossary(locale))
    findings = [finding for pair in pairs for finding in check_translation(pair)]
    findings += same_words.find(pairs)
    findings += [finding for message in messages if (finding := _gap(message, catalogue)) is not None]
    findings += _in_vain(messages, catalogue)
    return in_order(findings)


def pairs_of(messages: tuple[SourceMessage, ...], catalogue: Catalogue, glossary: Glossary | None) -> tuple[Pair, ...]:
    """Return each message that has words in a catalogue beside them."""
    return tuple(
        Pair(message, translation, catalogue.locale, glossary, missing_characters)
        for message in messages
        if (translation := catalogue.translations.get(message.key)) is not None and any(translation.forms)
    )


def _in_vain(messages: tuple[SourceMessage, ...], catalogue: Catalogue) -> Iterator[Finding]:
    """Find words for messages that no template has, as of a source that was mistyped."""
    keys = {message.key for message in messages}
    for key, translation in catalogue.translations.items():
        if key not in keys and any(translation.forms):
            said = f"no template has “{key.source}” in {key.context or 'no context'}, so that nothing uses these words"
            hint = "correct msgctxt and msgid by locales/leaflets.pot, or take them away"
            yield Finding(IN_VAIN, "warn", translation.place, said, hint)


def _gap(message: SourceMessage, catalogue: Catalogue) -> Finding | None:
    translation = catalogue.translations.get(message.key)
    source = f"“{message.key.source}”"
    if translation is None:
        hint = "run: leaflets words update, then translate it"
        return Finding(MISSING, "stop", message.places[0], f"{source} is not in '{catalogue.locale}'", hint)
    if not translation.is_whole:
        return Finding(MISSING, "stop", translation.place, f"{source} has no words yet", "translate it")
    if translation.stale:
        said = f"the words for {source} are of an older source"
        return Finding(MISSING, "stop", translation.place, said, "correct them, and take `fuzzy` away")
    return None
