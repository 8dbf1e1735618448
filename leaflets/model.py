"""Every noun that more than one room knows: frozen, typed."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from leaflets.vocabulary import Agent, EarName

Severity = Literal["note", "warn", "stop"]
EarsName = Literal["left", "right", "both"]


@dataclass(frozen=True)
class Finding:
    """Something about a leaflet or its content that somebody should know.

    Attributes:
        code: four letters and two digits, never used for anything else; see DEVELOPERS.md, "Check codes".
        severity: note (good to know), warn (look before you hand it over), stop (no leaflet is made).
        place: where to look: a file with its line, or a field of the visit.
        message: what is wrong or worth knowing.
        hint: what to do.

    """

    code: str
    severity: Severity
    place: str
    message: str
    hint: str

    def as_json(self) -> dict[str, str]:
        """Return the finding as plain values."""
        return {name: str(getattr(self, name)) for name in ("code", "severity", "place", "message", "hint")}

    def __str__(self) -> str:
        return f"{self.place}: {self.code} {self.severity}: {self.message} ({self.hint})"


@dataclass(frozen=True)
class Given:
    """A rule that applies, with the ears it applies to (empty: it is about the person) and the facts that made it so.

    `confirmed`: the reason the practitioner gave for going on despite a precaution; None: there was none.
    """

    rule: str
    ears: tuple[EarName, ...]
    because: tuple[str, ...]
    confirmed: str | None = None


@dataclass(frozen=True)
class Withheld:
    """A rule that would apply but is contraindicated. `planned`: the practitioner had planned it."""

    rule: str
    ears: tuple[EarName, ...]
    because: tuple[str, ...]
    planned: bool


@dataclass(frozen=True)
class Asked:
    """A rule that cannot be judged yet.

    Attributes:
        not_recorded: paths of the fields to record.
        to_confirm: the facts that call for the practitioner's confirmation.
        indicated: whether it is known to apply, so that the leaflet cannot be made without an answer.

    """

    rule: str
    ears: tuple[EarName, ...]
    not_recorded: tuple[str, ...]
    to_confirm: tuple[str, ...]
    indicated: bool


@dataclass(frozen=True)
class PlannedBlock:
    """A block of words to give, with the first rule that gives it, the ears concerned and all the reasons."""

    id: str
    rule: str
    ears: tuple[EarName, ...]
    because: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """What the rules make of a visit."""

    given: tuple[Given, ...]
    withheld: tuple[Withheld, ...]
    asked: tuple[Asked, ...]
    blocks: tuple[PlannedBlock, ...]


@dataclass(frozen=True)
class Course:
    """A course of drops, all dates worked out.

    Attributes:
        agent: what the drops are.
        ears: the ears it is for, left first.
        drops_per_dose: drops in each ear, each time.
        times_a_day: doses a day.
        days: how many days, the first and the last included.
        start: the first day.
        soak_minutes: how long to lie with the treated ear up.
        bottle_drops: how many drops one bottle holds.

    """

    agent: Agent
    ears: tuple[EarName, ...]
    drops_per_dose: int
    times_a_day: int
    days: int
    start: datetime.date
    soak_minutes: int
    bottle_drops: int

    @property
    def end(self) -> datetime.date:
        """The last day of the course."""
        return self.start + datetime.timedelta(days=self.days - 1)

    @property
    def dates(self) -> tuple[datetime.date, ...]:
        """Every day of the course."""
        return tuple(self.start + datetime.timedelta(days=day) for day in range(self.days))

    @property
    def total_drops(self) -> int:
        """Drops in the whole course, all ears together."""
        return self.drops_per_dose * self.times_a_day * self.days * len(self.ears)

    @property
    def bottles(self) -> int:
        """How many bottles the course takes."""
        return -(-self.total_drops // self.bottle_drops)


@dataclass(frozen=True)
class Calendar:
    """The dates of one visit.

    Attributes:
        dry_until: the last day to keep an ear dry, by ear; left out are an ear that needs no dry days and one that
            stays dry until somebody has looked at it again.
        infection_dry_until: the last day to keep an infected ear dry at least; None: none is infected.
        review: the day to come back; None: no review is planned.
        hear_by: the day by which the person should have heard of a referral; None: nobody has to write to them.

    """

    dry_until: Mapping[EarName, datetime.date] = field(default_factory=dict)
    infection_dry_until: datetime.date | None = None
    review: datetime.date | None = None
    hear_by: datetime.date | None = None


UnitKind = Literal["heading", "sentence", "item", "field", "contact"]
MessageState = Literal["missing", "stale", "draft", "reviewed"]


@dataclass(frozen=True)
class Unit:
    """One piece of text of a leaflet: a heading, a sentence, an item of a list, a table's field, a line of contact."""

    kind: UnitKind
    text: str
    block: str


@dataclass(frozen=True)
class Message:
    """One message that a leaflet used.

    Attributes:
        source: British English; the singular of a message that is counted.
        translated: what the leaflet says; equals `source` in the language of the source.
        block: the block that used it, or "layout".
        plural: the English plural. None: the message is not counted.
        context: the template that it is written in.
        state: missing: it has no words in the language. stale: its source changed since. draft: nobody signed it off.
        place: where it stands in its catalogue, as `path:line`. None: it is the source language, or stands in none.

    """

    source: str
    translated: str
    block: str
    plural: str | None = None
    context: str = ""
    state: MessageState = "draft"
    place: str | None = None


@dataclass(frozen=True)
class ComposedBlock:
    """A block with its words in place: a well-formed fragment of HTML, and what checks need to know of it."""

    id: str
    rule: str
    ears: tuple[EarName, ...]
    because: tuple[str, ...]
    section: str
    priority: int
    safety: bool
    html: str
    source: str
    reviewed: datetime.date
    units: tuple[Unit, ...]


@dataclass(frozen=True)
class Leaflet:
    """A leaflet with all its words, not yet laid out.

    Attributes:
        id: from the content of the leaflet: the same words for the same visit have the same id.
        html: the whole page body, well formed.
        blocks: in the order in which they are read.
        left_out: ids of blocks left out for want of room, in the order in which they went.
        messages: every message used, once.

    """

    id: str
    language: str
    reader: str
    format: str
    title: str
    main_message: str
    html: str
    blocks: tuple[ComposedBlock, ...]
    left_out: tuple[str, ...]
    messages: tuple[Message, ...]
    units: tuple[Unit, ...]


@dataclass(frozen=True)
class Result:
    """What came of a visit: the contract between the pipeline and everything that calls it. See `as_json`."""

    ref: str
    practitioner: str | None
    status: Literal["ok", "stopped"]
    leaflet_id: str | None
    content_version: str
    blocks: tuple[PlannedBlock, ...]
    withheld: tuple[Withheld, ...]
    asked: tuple[Asked, ...]
    confirmed: tuple[Given, ...]
    readability: Mapping[str, Any] | None
    coverage: Mapping[str, Any] | None
    findings: tuple[Finding, ...]
    pages: int | None
    files: Mapping[str, str]

    def as_json(self) -> dict[str, Any]:
        """Return the result as plain values, in the form that `leaflets make --json` prints."""
        return {
            "ref": self.ref,
            "status": self.status,
            "leaflet_id": self.leaflet_id,
            "content_version": self.content_version,
            "blocks": [
                {"id": block.id, "rule": block.rule, "ears": list(block.ears), "because": list(block.because)}
                for block in self.blocks
            ],
            "withheld": [
                {"rule": one.rule, "ears": list(one.ears), "because": list(one.because)} for one in self.withheld
            ],
            "ask": [
                {
                    "rule": one.rule,
                    "ears": list(one.ears),
                    "not_recorded": list(one.not_recorded),
                    "to_confirm": list(one.to_confirm),
                }
                for one in self.asked
            ],
            "confirmed": [
                {
                    "rule": one.rule,
                    "ears": list(one.ears),
                    "because": list(one.because),
                    "by": self.practitioner,
                    "reason": one.confirmed,
                }
                for one in self.confirmed
            ],
            "readability": dict(self.readability) if self.readability is not None else None,
            "coverage": dict(self.coverage) if self.coverage is not None else None,
            "findings": [one.as_json() for one in self.findings],
            "pages": self.pages,
            "files": dict(self.files),
        }
