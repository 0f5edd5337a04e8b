"""The firm's own rules: versions, who changed what, and which are in use."""

from dataclasses import replace

import pytest

from compliance.models import OwnRules
from compliance.own_rules import OwnExample
from compliance.services import own_rules
from compliance.services.own_rules import (
    ExamplesFailError,
    RuleFaultError,
    in_use,
    newest,
    pack_in_use,
    remove_rule,
    save_rule,
    take_into_use,
)
from shared import clock
from tests.compliance.own import CALM
from tests.compliance.rulebook.builders import WIND, pack, rule


def test_each_save_is_a_new_version_that_says_who_changed_what_and_why(firm, colleague):
    save_rule(firm, CALM, colleague.user, "a quiet street")
    save_rule(firm, replace(CALM, key="1", level="required"), colleague.user, "the neighbours wrote")
    remove_rule(firm, "1", colleague.user, "we moved")
    save_rule(firm, CALM, colleague.user, "and back")
    versions = OwnRules.objects.for_firm(firm).order_by("version")
    assert [(one.version, one.change, one.rule, one.why, one.by.name) for one in versions] == [
        (1, "added", "Calm only", "a quiet street", "J. Quill"),
        (2, "changed", "Calm only", "the neighbours wrote", "J. Quill"),
        (3, "removed", "Calm only", "we moved", "J. Quill"),
        (4, "added", "Calm only", "and back", "J. Quill"),
    ]
    assert [[rule.key for rule in one.own] for one in versions] == [["1"], ["1"], [], ["2"]]


def test_a_version_is_used_from_the_moment_at_which_it_is_taken_into_use(firm, colleague):
    first = save_rule(firm, CALM, colleague.user, "")
    assert pack_in_use(firm) is None
    before = clock.now()
    take_into_use(first, colleague.user)
    save_rule(firm, replace(CALM, key="1", title="Calmer"), colleague.user, "")
    assert newest(firm).version == 2
    assert in_use(firm).version == first
    assert [rule.title.en for rule in pack_in_use(firm).rules] == ["Calm only"]
    assert pack_in_use(firm, before) is None


def test_a_rule_that_loosens_a_law_is_refused_with_the_reason(firm, colleague, monkeypatch):
    monkeypatch.setattr(
        own_rules, "packs_for", lambda *_: type("Bearing", (), {"in_force": [pack(rule(**WIND))]})
    )
    looser = replace(CALM, params={"quantity": "wind_speed", "max": "24 mph"}, examples=())
    with pytest.raises(RuleFaultError) as refused:
        save_rule(firm, looser, colleague.user, "")
    assert refused.value.trial.key == "max"
    assert "Example Act 1(a) allows 10 mph; a firm's rule can only be stricter" in refused.value.trial.fault
    assert newest(firm) is None
    save_rule(firm, CALM, colleague.user, "")


def test_rules_whose_examples_fail_may_be_saved_but_not_used(firm, colleague):
    wrong = OwnExample("A light wind", "roof-in-september", "not_met")
    version = save_rule(firm, replace(CALM, examples=(wrong,)), colleague.user, "")
    with pytest.raises(ExamplesFailError) as refused:
        take_into_use(version, colleague.user)
    assert refused.value.titles == ["Calm only"]
    assert in_use(firm) is None


def test_the_rules_of_another_firm_stay_with_it(firm, colleague, stranger):
    take_into_use(save_rule(firm, CALM, colleague.user, ""), colleague.user)
    assert newest(stranger.firm) is None
    assert pack_in_use(stranger.firm) is None
