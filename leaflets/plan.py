"""From a visit and the rules to what is given, withheld and asked, ear by ear, each with its reasons."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from leaflets.model import Asked, Given, Plan, PlannedBlock, Withheld
from leaflets.rules.conditions import Facts, Judgement, judge_any
from leaflets.rules.fields import ear_facts, person_facts
from leaflets.rules.rule import Rule
from leaflets.visit import Visit
from leaflets.vocabulary import EarName

Outcome = Literal["given", "withheld", "asked"]

_NOT_PLANNED = frozenset({"none", "no"})


@dataclass(frozen=True)
class _Verdict:
    """What one rule comes to for one ear, or for the person."""

    outcome: Outcome
    because: tuple[str, ...] = ()
    not_recorded: tuple[str, ...] = ()
    to_confirm: tuple[str, ...] = ()
    planned: bool = False
    indicated: bool = True
    confirmed: str | None = None


def plan(visit: Visit, rules: Iterable[Rule]) -> Plan:
    """Judge every rule on a visit.

    A contraindication always wins. What was not recorded is never taken for "no": an indicated rule whose
    contraindications or precautions cannot be judged is asked, not given.
    """
    confirmations = {confirmation.rule: confirmation.reason for confirmation in visit.plan.confirm}
    person = person_facts(visit)
    by_ear = {ear: ear_facts(visit, ear) for ear in visit.ears_examined}
    given: list[Given] = []
    withheld: list[Withheld] = []
    asked: list[Asked] = []
    blocks: dict[str, PlannedBlock] = {}
    for rule in rules:
        reason = confirmations.get(rule.id)
        verdicts: dict[EarName | None, _Verdict] = {}
        if rule.scope == "person":
            _note(verdicts, None, _judge(rule, person, reason))
        else:
            for ear, facts in by_ear.items():
                _note(verdicts, ear, _judge(rule, facts, reason))
        for ears, verdict in _grouped(verdicts):
            match verdict.outcome:
                case "given":
                    given.append(Given(rule.id, ears, verdict.because, verdict.confirmed))
                    _add_blocks(blocks, rule, ears, verdict.because)
                case "withheld":
                    withheld.append(Withheld(rule.id, ears, verdict.because, verdict.planned))
                case "asked":
                    asked.append(Asked(rule.id, ears, verdict.not_recorded, verdict.to_confirm, verdict.indicated))
    return Plan(tuple(given), tuple(withheld), tuple(asked), tuple(blocks.values()))


def _note(verdicts: dict[EarName | None, _Verdict], ear: EarName | None, verdict: _Verdict | None) -> None:
    if verdict is not None:
        verdicts[ear] = verdict


def _judge(rule: Rule, facts: Facts, confirmation: str | None) -> _Verdict | None:
    """Judge one rule on one set of facts; None: it does not apply, or its treatment is not wanted."""
    indication = judge_any(rule.indications, facts)
    if rule.urgency is not None:
        return _judge_sign(indication)
    decision = _decision(rule, facts)
    planned = decision is not None and decision.truth is True
    if decision is not None and planned:
        indication = Judgement(True, tuple(dict.fromkeys((*indication.because, *decision.because))))
    contraindication = judge_any(rule.contraindications, facts)
    if indication.truth and contraindication.truth:
        return _Verdict("withheld", contraindication.because, planned=planned)
    if indication.truth is False or contraindication.truth or (decision is not None and decision.truth is False):
        return None
    if indication.truth is None:
        return _Verdict("asked", not_recorded=indication.not_recorded, indicated=False)
    precaution = judge_any(rule.precautions, facts)
    # A confirmation answers what is known to hold, not what nobody has recorded.
    missing = (*contraindication.not_recorded, *precaution.not_recorded, *(decision.not_recorded if decision else ()))
    to_confirm = precaution.because if confirmation is None else ()
    if missing or to_confirm:
        return _Verdict("asked", not_recorded=tuple(dict.fromkeys(missing)), to_confirm=to_confirm, planned=planned)
    return _Verdict("given", indication.because, confirmed=confirmation if precaution.truth else None)


def _judge_sign(indication: Judgement) -> _Verdict | None:
    """Judge a sign of the get-help panel: it stands unless it is known not to concern this person."""
    if indication.truth is False:
        return None
    unknown = tuple(f"{path} is not recorded" for path in indication.not_recorded)
    return _Verdict("given", indication.because or unknown)


def _decision(rule: Rule, facts: Facts) -> Judgement | None:
    """Judge whether the practitioner planned the rule's treatment; None: it gives none."""
    if rule.decided_by is None:
        return None
    fact = facts[rule.decided_by]
    if fact.value is None:
        return Judgement(None, not_recorded=fact.not_recorded)
    planned = fact.value not in _NOT_PLANNED
    return Judgement(planned, (f"{fact.path} = {fact.value}",) if planned else ())


def _grouped(verdicts: Mapping[EarName | None, _Verdict]) -> Sequence[tuple[tuple[EarName, ...], _Verdict]]:
    """Bring ears with the same outcome together, with the reasons of both."""
    groups: dict[tuple[Outcome, bool, bool], tuple[list[EarName], list[_Verdict]]] = {}
    for ear, verdict in verdicts.items():
        ears, same = groups.setdefault((verdict.outcome, verdict.planned, verdict.indicated), ([], []))
        same.append(verdict)
        if ear is not None:
            ears.append(ear)
    return [(tuple(ears), _joined(same)) for ears, same in groups.values()]


def _joined(verdicts: Sequence[_Verdict]) -> _Verdict:
    def all_of(texts: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(text for group in texts for text in group))

    first = verdicts[0]
    return _Verdict(
        first.outcome,
        all_of(verdict.because for verdict in verdicts),
        all_of(verdict.not_recorded for verdict in verdicts),
        all_of(verdict.to_confirm for verdict in verdicts),
        first.planned,
        first.indicated,
        next((verdict.confirmed for verdict in verdicts if verdict.confirmed), None),
    )


def _add_blocks(
    blocks: dict[str, PlannedBlock], rule: Rule, ears: tuple[EarName, ...], because: tuple[str, ...]
) -> None:
    for block_id in rule.blocks:
        known = blocks.get(block_id)
        if known is None:
            blocks[block_id] = PlannedBlock(block_id, rule.id, ears, because)
        else:
            both = tuple(ear for ear in ("left", "right") if ear in known.ears or ear in ears)
            reasons = tuple(dict.fromkeys((*known.because, *because)))
            blocks[block_id] = PlannedBlock(block_id, known.rule, both, reasons)
