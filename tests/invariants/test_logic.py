"""The laws of the condition language that let an invariant be proved over all outcomes from a few of them."""

import itertools

import pytest
from outcomes import AGES, Rules

from leaflets.plan import _judge
from leaflets.rules.conditions import AnyOf, Fact, Judgement, Line, judge_any
from leaflets.rules.fields import EAR_FIELDS, PERSON_FIELDS

FIELDS = {**EAR_FIELDS, **PERSON_FIELDS}
LISTS = frozenset(
    {"habits", "conditions", "allergies", "method", "canal", "history", "symptoms", "symptoms_after", "events"}
)

_TRUTHS = {True: "yes", False: "no", None: None}


def _facts_of(field: str) -> list[Fact]:
    """Every value that a field may record, lists with each value alone and none at all."""
    allowed = FIELDS[field]
    if allowed is None:
        return [Fact(field, age) for age in AGES]
    if field in LISTS:
        return [Fact(field, ()), *(Fact(field, (value,)) for value in sorted(allowed))]
    return [Fact(field, value) for value in sorted(allowed)]


def test_a_test_is_undecided_exactly_while_its_field_is_not_recorded(rules: Rules) -> None:
    tests = {
        test
        for rule in rules.values()
        for line in (*rule.indications, *rule.contraindications, *rule.precautions)
        for test in line.tests
    }
    for test in tests:
        assert test.judge(Fact(test.field, None)).truth is None
        assert {test.judge(fact).truth for fact in _facts_of(test.field)} == {True, False}


def test_a_line_fails_as_soon_as_one_of_its_tests_does_and_holds_only_when_all_are_known_to() -> None:
    names = ("a", "b", "c")
    line = Line(tuple(AnyOf(name, frozenset({"yes"})) for name in names))
    for truths in itertools.product(_TRUTHS, repeat=3):
        facts = {name: Fact(name, _TRUTHS[truth]) for name, truth in zip(names, truths, strict=True)}
        # Kleene's strong conjunction, from memory: false beats all, unknown beats true. It is monotone, and so is the
        # disjunction below: a fact that becomes known never overturns a judgement.
        expected = False if False in truths else None if None in truths else True
        assert line.judge(facts).truth is expected


def _line(name: str) -> Line:
    return Line((AnyOf(name, frozenset({"yes"})),))


def test_a_list_of_lines_holds_as_soon_as_one_does_and_fails_only_when_all_are_known_to() -> None:
    names = ("a", "b", "c")
    lines = [_line(name) for name in names]
    for truths in itertools.product(_TRUTHS, repeat=3):
        facts = {name: Fact(name, _TRUTHS[truth]) for name, truth in zip(names, truths, strict=True)}
        # Kleene's strong disjunction, from memory: true beats all, unknown beats false.
        expected = True if True in truths else None if None in truths else False
        assert judge_any(lines, facts).truth is expected


@pytest.mark.parametrize("confirmed", [None, "a reason"])
def test_a_rule_is_given_only_when_every_contraindication_is_known_to_be_false(
    rules: Rules, confirmed: str | None
) -> None:
    rule = next(one for one in rules.values() if one.decided_by is None and one.scope == "person" and not one.urgency)
    made = type(rule)(
        **{
            **{name: getattr(rule, name) for name in rule.__dataclass_fields__},
            "indications": (_line("i"),),
            "contraindications": (_line("c"), _line("d")),
            "precautions": (_line("p"),),
        }
    )
    for i, c, d, p in itertools.product(_TRUTHS, repeat=4):
        facts = {name: Fact(name, _TRUTHS[truth]) for name, truth in zip("icdp", (i, c, d, p), strict=True)}
        verdict = _judge(made, facts, confirmed)
        given = verdict is not None and verdict.outcome == "given"
        assert given == (i is True and c is False and d is False and (p is False or (p is True and bool(confirmed))))
        if verdict is not None and (c is True or d is True):
            assert verdict.outcome == "withheld"


def test_one_more_value_in_a_list_never_makes_a_true_test_false() -> None:
    for field in sorted(LISTS):
        values = sorted(FIELDS[field] or ())
        for wanted, other in itertools.permutations(values, 2):
            test = AnyOf(field, frozenset({wanted}))
            assert test.judge(Fact(field, (wanted,))) == Judgement(True, (f"{field} = {wanted}",))
            assert test.judge(Fact(field, (other, wanted))).truth is True
            assert test.judge(Fact(field, (other,))).truth is False
