"""What the last check found is found in the register: open rules by their ids, and the wind limit."""

from decimal import Decimal

import pytest

from compliance.models import StoredCheck
from compliance.services.check import recheck
from compliance.services.signing import prepare, sign_treatment
from compliance.stored_register import open_rules, wind_limit
from records.models import Treatment
from records.register.wanted import RegisterFilter
from records.register_search import treatments_of
from records.selectors import newest_signed
from records.services.to_sign import Signer
from tests.factories import PASSWORD


@pytest.fixture
def signed(done, member) -> Treatment:
    findings = prepare(done, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, answers)
    return done


def test_a_signed_record_is_found_by_each_rule_that_its_check_left_open(firm, signed):
    stored = StoredCheck.objects.for_firm(firm).get().stored
    not_met, cant_tell = open_rules(stored)
    assert not_met
    assert not not_met & cant_tell
    for rule in not_met | cant_tell:
        assert list(treatments_of(firm, RegisterFilter(finding=rule))) == [signed]
    met = {each["rule"] for each in stored["findings"] if each["outcome"] == "met"} - not_met - cant_tell
    assert met
    assert not any(treatments_of(firm, RegisterFilter(finding=rule)) for rule in met)


def test_the_wind_limit_of_the_label_stands_beside_the_treatment(firm, signed):
    """The label of the demo product allows 10 mph, which are 4.4704 m/s exactly (NIST SP 811, from memory)."""
    assert Treatment.objects.for_firm(firm).get(pk=signed.pk).wind_limit == Decimal("4.4704")


def test_a_new_check_takes_the_place_of_the_last_one(firm, signed, monkeypatch):
    monkeypatch.setattr("compliance.services.check.open_rules", lambda stored: ({"us-wa/other"}, set()))
    recheck(newest_signed(signed))
    assert list(treatments_of(firm, RegisterFilter(finding="us-wa/other"))) == [signed]
    rules = set().union(*open_rules(StoredCheck.objects.for_firm(firm).last().stored))
    assert not any(treatments_of(firm, RegisterFilter(finding=rule)) for rule in rules)


def test_of_a_check_without_findings_and_limits_nothing_is_kept():
    assert open_rules({}) == (set(), set())
    assert wind_limit({"limits": [{"quantity": "gust", "max": {"value": "3", "unit": "mph"}}]}) is None
