"""What a check of translations looks at: a message and its translation, form by form."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from leaflets import cldr
from leaflets.catalogue import MessageKey, SourceMessage, Translation
from leaflets.translation_checks.glossary import Glossary, parse_glossary

Severity = Literal["stop", "warn"]

PLACEHOLDER = re.compile(r"%\((\w+)\)s")
MARKUP = re.compile(r"</?strong>")
_MAY_LEAVE_OUT_THE_NUMBER = frozenset({"zero", "one"})


class Fault(NamedTuple):
    """What is wrong with a translation, and what to do. `message` ends a sentence that its place begins."""

    code: str
    severity: Severity
    message: str
    hint: str


class Form(NamedTuple):
    """One plural form of a translation beside its source.

    Attributes:
        source: the source that it translates; the English plural where a form stands for several numbers.
        widest: the English form that names most values: the plural where there is one.
        text: the translation.
        may_lack_the_number: whether it stands for none or one, which may go unsaid where the English singular does.

    """

    source: str
    widest: str
    text: str
    may_lack_the_number: bool


@dataclass(frozen=True)
class Pair:
    """A message with its translation.

    Attributes:
        locale: BCP 47.
        glossary: of the locale. None: it has none, and what needs one is not checked.
        missing_characters: returns the characters of a text that no font of ours can draw.

    """

    message: SourceMessage
    translation: Translation
    locale: str
    glossary: Glossary | None
    missing_characters: Callable[[str], tuple[str, ...]] = field(default=lambda _text: ())

    @property
    def forms(self) -> Iterator[Form]:
        """Each form of the translation that there is, beside its source."""
        key = self.message.key
        if key.plural is None:
            yield Form(key.source, key.source, self.translation.forms[0], may_lack_the_number=False)
            return
        for name, text in zip(cldr.plural_forms(self.locale), self.translation.forms, strict=False):
            few = name in _MAY_LEAVE_OUT_THE_NUMBER
            yield Form(key.source if few else key.plural, key.plural, text, may_lack_the_number=few)


def plain(text: str, value: str = "") -> str:
    """Return a text without markup, and with `value` in the place of each of its values.

    >>> plain("<strong>Use %(drops)s drops</strong>", "3")
    'Use 3 drops'

    """
    return MARKUP.sub("", PLACEHOLDER.sub(value, text))


@dataclass(frozen=True)
class Example:
    """A translation that a check carries, good or bad, into invented words of the locale.

    Attributes:
        name: what it shows.
        source: the English words; a pair of singular and plural for a counted message.
        forms: the translation, one for each plural form of the locale.
        safety: whether the message is safety-critical.

    """

    name: str
    source: str | tuple[str, str]
    forms: tuple[str, ...]
    locale: str = "pl"
    safety: bool = True

    def pair(self) -> Pair:
        """Return what the check looks at."""
        singular, plural = self.source if isinstance(self.source, tuple) else (self.source, None)
        key = MessageKey("drops/course", singular, plural)
        message = SourceMessage(key, ("templates/blocks/drops/course.html:1",), ("adult",), "now", self.safety, ())
        return Pair(message, Translation(key, self.forms, stale=False, place="leaflets.po:1"), self.locale, _glossary())


def _glossary() -> Glossary:
    """Return a small glossary of Polish for the examples of checks."""
    return parse_glossary(
        "glossary.toml",
        """
        [language]
        name = "polski"
        register = "polite and impersonal"
        quotes = ["„", "”"]
        [words]
        left = ["lew*"]
        right = ["praw*"]
        both = ["ob*", "każd*"]
        negation = ["nie", "bez"]
        unchanged = ["Plan"]
        [[term]]
        source = "eardrum"
        translation = "błona bębenkowa"
        forms = ["błon* bębenkow*"]
        [[term]]
        source = "drop"
        translation = "kropla"
        forms = ["kropl*", "kropel"]
        """,
    )
