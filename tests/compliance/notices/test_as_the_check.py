"""What the plan says of a notice is what the check says: on every example of the packs that is about one."""

from collections.abc import Iterator

import pytest

from compliance.notices.tellings import Asking
from compliance.notices.timeline import Plan
from compliance.pack_examples import Example, registered_examples
from compliance.rulebook.finding import Finding
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.rule import Rule
from records.document.context import read_context
from records.document.reader import read


def _is_notice(rule: Rule) -> bool:
    return any(isinstance(duty.kind, Notice) for duty in rule.all_duties)


def _cases() -> Iterator[tuple[str, Example]]:
    for examples in registered_examples().values():
        for example in examples:
            asked = [rule.id for rule in example.pack.rules if _is_notice(rule) and rule.id in example.expect]
            yield from ((rule, example) for rule in asked)


def _judged(rule: str, example: Example) -> tuple[bool | None, list[Asking], list[Finding]]:
    document, context = example.documents()
    plan = Plan.of(read(document), read_context(context), [example.pack])
    (duty,) = [one for one in plan.duties.notices if one.rule == rule]
    asks = [ask for telling in plan.tellings for ask in telling.asks if ask.duty is duty]
    return duty.applies, asks, [one for one in example.check().findings if one.rule == rule]


@pytest.mark.parametrize(("rule", "example"), list(_cases()), ids=lambda one: getattr(one, "says", one))
def test_the_plan_and_the_check_say_the_same_of_each_example(rule: str, example: Example):
    applies, asks, findings = _judged(rule, example)
    wordings = {one.judgement.wording for one in findings}
    assert (applies is False) == (wordings <= {"does_not_apply", "notice/nobody"})
    outcomes = {one.judgement.outcome for one in findings}
    if outcomes == {Outcome.MET}:
        assert {ask.state for ask in asks} == {"in-time"}
    if Outcome.NOT_MET in outcomes:
        assert {"wrong", "not-told"} & {ask.state for ask in asks}
    if asks and all(ask.state == "in-time" for ask in asks):
        assert Outcome.NOT_MET not in outcomes
