"""Conditions of rules: a frozen language over the fields of a visit, judged in three values.

A line holds when all its fields do; a list of lines holds when any line does. A field that was not recorded is neither
true nor false (Kleene's strong three-valued logic), and the judgement says which fields are missing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from leaflets.rules.numbers import Number

FactValue = str | int | tuple[str, ...] | None


@dataclass(frozen=True)
class Fact:
    """One field of a visit.

    Attributes:
        path: the field as a person reads it, `left.eardrum`.
        value: None: not recorded; an empty tuple: looked for, none.
        record: the fields to fill in where `value` is None; empty: `path` itself. A derived field has its own.

    """

    path: str
    value: FactValue
    record: tuple[str, ...] = ()

    @property
    def not_recorded(self) -> tuple[str, ...]:
        """The paths of the fields to record."""
        return self.record or (self.path,)


Facts = Mapping[str, Fact]


@dataclass(frozen=True)
class Judgement:
    """What a condition comes to.

    Attributes:
        truth: True, False, or None where a field that decides it was not recorded.
        because: the facts that made it true, as `left.eardrum = perforated`.
        not_recorded: the paths of the fields that would decide it; where it is true, those of its undecided lines.

    """

    truth: bool | None
    because: tuple[str, ...] = ()
    not_recorded: tuple[str, ...] = ()


@dataclass(frozen=True)
class AnyOf:
    """The field is one of the values; for a field that is a list: one of them is in it."""

    field: str
    values: frozenset[str]

    def judge(self, fact: Fact) -> Judgement:
        """Judge one fact."""
        if fact.value is None:
            return Judgement(None, not_recorded=fact.not_recorded)
        recorded = fact.value if isinstance(fact.value, tuple) else (str(fact.value),)
        met = [value for value in recorded if value in self.values]
        return Judgement(bool(met), tuple(f"{fact.path} = {value}" for value in met))


@dataclass(frozen=True)
class Between:
    """The number lies within the bounds, both included; None: no bound on that side."""

    field: str
    minimum: Number | None
    maximum: Number | None

    def judge(self, fact: Fact) -> Judgement:
        """Judge one fact."""
        if fact.value is None:
            return Judgement(None, not_recorded=fact.not_recorded)
        if not isinstance(fact.value, int):
            raise TypeError(f"{fact.path} is not a number")
        low = self.minimum is None or fact.value >= self.minimum.value
        high = self.maximum is None or fact.value <= self.maximum.value
        return Judgement(low and high, (f"{fact.path} = {fact.value}",) if low and high else ())


@dataclass(frozen=True)
class Line:
    """Tests that must all hold. No test at all: always true."""

    tests: tuple[AnyOf | Between, ...]

    def judge(self, facts: Facts) -> Judgement:
        """Judge the line: false as soon as one test is known to be false."""
        judgements = [test.judge(facts[test.field]) for test in self.tests]
        if any(judgement.truth is False for judgement in judgements):
            return Judgement(False)
        missing = tuple(path for judgement in judgements for path in judgement.not_recorded)
        if missing:
            return Judgement(None, not_recorded=missing)
        because = tuple(fact for judgement in judgements for fact in judgement.because)
        return Judgement(True, because or ("always",))


def judge_any(lines: Sequence[Line], facts: Facts) -> Judgement:
    """Judge a list of lines: true as soon as one is; no line: false. All lines that hold are named."""
    judgements = [line.judge(facts) for line in lines]
    because = _each_once(fact for judgement in judgements if judgement.truth for fact in judgement.because)
    missing = _each_once(path for judgement in judgements for path in judgement.not_recorded)
    if because:
        return Judgement(True, because, missing)
    return Judgement(None, not_recorded=missing) if missing else Judgement(False)


def _each_once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))
