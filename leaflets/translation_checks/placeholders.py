"""TRAN03: values and markup of a message.

What: each `%(name)s` of the source stands in the translation as often, and no other; `<strong>` likewise; no lone per
cent sign. A form that stands for none or one may leave the number unsaid where the English singular does.
Why: a lost value is a lost dose or date; an unknown one cannot be filled in.
Source: GNU gettext manual, python-format; common practice, no source.
"""

from collections import Counter
from collections.abc import Iterator

from leaflets.translation_checks.pair import MARKUP, PLACEHOLDER, Example, Fault, Pair

CODE = "TRAN03"


def find(pair: Pair) -> Iterator[Fault]:
    """Find values and markup that are lost or added."""
    for form in pair.forms:
        found = Counter(PLACEHOLDER.findall(form.text))
        allowed = [Counter(PLACEHOLDER.findall(form.widest))]
        if form.may_lack_the_number:
            allowed.append(Counter(PLACEHOLDER.findall(form.source)))
        if found not in allowed:
            lost = sorted((allowed[0] - found).elements())
            added = sorted((found - allowed[0]).elements())
            said = "; ".join(
                [*(f"%({name})s is lost" for name in lost), *(f"%({name})s is too much" for name in added)]
            )
            yield Fault(CODE, "stop", said or "its values are others", "keep each %(name)s of the source, once")
        if MARKUP.findall(form.text) != MARKUP.findall(form.widest):
            yield Fault(CODE, "stop", "its <strong> differs from the source", "keep each <strong> and </strong>")
        if form.text.count("%") != sum(found.values()):
            yield Fault(CODE, "stop", "a % stands in it that is no value", "take the % away: it stands in the template")


GOOD = (
    Example("a value that moved", "Call %(phone)s now.", ("Pod %(phone)s proszę dzwonić teraz.",)),
    Example("markup kept", "<strong>Keep it dry.</strong>", ("<strong>Ucho suche.</strong>",)),
    Example(
        "once says its number",
        ("Do this once a day.", "Do this %(times)s times a day."),
        ("Raz dziennie.", "%(times)s razy dziennie.", "%(times)s razy dziennie."),
    ),
)
BAD = (
    Example("a value lost", "Call %(phone)s now.", ("Proszę dzwonić teraz.",)),
    Example("a value of another name", "Call %(phone)s now.", ("Proszę dzwonić: %(telefon)s.",)),
    Example("a value twice", "Call %(phone)s now.", ("%(phone)s: proszę dzwonić %(phone)s.",)),
    Example("markup lost", "<strong>Keep it dry.</strong>", ("Ucho suche.",)),
    Example("markup the wrong way round", "<strong>Keep it dry.</strong>", ("</strong>Ucho suche.<strong>",)),
    Example("a lone per cent sign", "Set it to half.", ("Proszę ustawić 50 %.",)),
    Example(
        "a number lost where it counts",
        ("Put %(drops)s drop in.", "Put %(drops)s drops in."),
        ("%(drops)s kropla.", "krople.", "%(drops)s kropli."),
    ),
)
