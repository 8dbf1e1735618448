"""RULE06: words, a rule or a number that nobody has reviewed for too long.

What: the review date of a block of the leaflet, of a rule that gave something, of a number that the words
use, or of the country's telephone numbers, plus
content.review-years, lies before the visit.
Why: guidance changes, and what nobody looks at any more is not known to be right.
Source: DCB0129, change control: content that has expired is not issued.
"""

import datetime
import re
from collections.abc import Iterator
from dataclasses import replace

from leaflets.checks.changes import course_added, situation_with, visit_with
from leaflets.checks.evidence import Evidence, Example
from leaflets.model import Finding
from leaflets.rules.numbers import Numbers

CODE = "RULE06"

_REVIEW_YEARS = "content.review-years"
_NUMBER_IN_WORDS = re.compile(r"""\bnumber\(\s*["']([^"']+)["']""")
_NUMBERS_FILE = "leaflets/rules/numbers.toml"
_COUNTRIES_FILE = "leaflets/rules/countries.toml"


def check(evidence: Evidence) -> Iterator[Finding]:
    """Find content whose review is overdue on the day of the visit."""
    years = evidence.situation.numbers.whole(_REVIEW_YEARS)
    for place, reviewed in sorted(set(_reviews(evidence))):
        last_day = _years_later(reviewed, years)
        if last_day < evidence.visit.date:
            message = f"was last reviewed on {reviewed.isoformat()}, and could be used until {last_day.isoformat()}"
            hint = "let the clinical lead review it and renew its `reviewed` date"
            yield Finding(CODE, "stop", place, message, hint)


def _reviews(evidence: Evidence) -> Iterator[tuple[str, datetime.date]]:
    for block in evidence.leaflet.blocks:
        yield evidence.place(block.id), block.reviewed
    for given in evidence.plan.given:
        if (rule := evidence.rules.get(given.rule)) is not None:
            yield rule.place, rule.reviewed
    country = evidence.situation.country
    yield f"{_COUNTRIES_FILE} [{country.code}]", country.reviewed
    for number_id in numbers_used(evidence):
        yield f"{_NUMBERS_FILE} [{number_id}]", evidence.situation.numbers[number_id].reviewed


def numbers_used(evidence: Evidence) -> set[str]:
    """Return the ids of the numbers that the words of a leaflet name, and of those behind its dates and doses."""
    situation = evidence.situation
    used = {_REVIEW_YEARS}
    for block in evidence.leaflet.blocks:
        template = evidence.block_words[block.id].template
        loader, name = template.environment.loader, template.name
        assert loader is not None, "the words were loaded from it"
        assert name is not None, "they were loaded by their name"
        used.update(_NUMBER_IN_WORDS.findall(loader.get_source(template.environment, name)[0]))
    behind: tuple[str, ...] = ("dry.",) if situation.calendar.dry_until else ()
    if situation.course is not None:
        behind += (f"{situation.course.agent}.", "bottle.")
    return used | {number_id for number_id in situation.numbers if number_id.startswith(behind)}


def _years_later(day: datetime.date, years: int) -> datetime.date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February, and no such day in that year
        return day.replace(year=day.year + years, day=28)


_LONG_AGO = datetime.date(2020, 1, 1)


def _old_block(evidence: Evidence) -> Evidence:
    first, *others = evidence.leaflet.blocks
    return replace(evidence, leaflet=replace(evidence.leaflet, blocks=(replace(first, reviewed=_LONG_AGO), *others)))


def _old_rule(evidence: Evidence) -> Evidence:
    rule_id = evidence.plan.given[0].rule
    rules = {**evidence.rules, rule_id: replace(evidence.rules[rule_id], reviewed=_LONG_AGO)}
    return replace(evidence, rules=rules)


def _old_number(evidence: Evidence, number_id: str) -> Evidence:
    numbers = evidence.situation.numbers
    old = replace(numbers[number_id], reviewed=_LONG_AGO)
    return situation_with(evidence, numbers=Numbers({**numbers, number_id: old}))


def _old_country(evidence: Evidence) -> Evidence:
    return situation_with(evidence, country=replace(evidence.situation.country, reviewed=_LONG_AGO))


def _on(evidence: Evidence, years: int, days: int) -> Evidence:
    """Return the same leaflet on a day some years and days after the oldest review of its content."""
    oldest = min(reviewed for _, reviewed in _reviews(evidence))
    return visit_with(evidence, date=_years_later(oldest, years) + datetime.timedelta(days=days))


GOOD = (
    Example("all was reviewed lately", lambda evidence: evidence),
    Example("the last day", lambda evidence: _on(evidence, 2, 0)),
    Example("a number that nothing uses is old", lambda evidence: _old_number(evidence, "docusate.days")),
)
BAD = (
    Example("an old block", _old_block),
    Example("an old rule", _old_rule),
    Example("an old number in the words", lambda evidence: _old_number(evidence, "help.bleeding-minutes")),
    Example("an old number behind a date", lambda evidence: _old_number(evidence, "dry.days-after-microsuction")),
    Example("an old number of the dose", lambda evidence: _old_number(course_added(evidence), "olive-oil.days")),
    Example("old emergency numbers", _old_country),
    Example("the day after the last", lambda evidence: _on(evidence, 2, 1)),
)
