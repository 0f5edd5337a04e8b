"""The check that a record was signed with is looked at with the log: changed, exchanged or gone, it is told."""

import time_machine

from compliance.models import StoredCheck
from compliance.stored_form import compressed
from records.log_check import look_at_log
from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.compliance.two_laws import EVENING, FIRST, sign
from tests.records.logged import by_sql, key_of


def checked(firm, member, done, install) -> StoredCheck:
    install(FIRST)
    with time_machine.travel(EVENING, tick=False):
        sign(done, member.user)
    return StoredCheck.objects.for_firm(firm).get()


def broken(firm) -> list[tuple[str, str]]:
    return [(one.whose, one.fault.wording) for one in look_at_log(firm).broken]


def test_a_check_that_nobody_touched_holds(firm, member, done, install):
    checked(firm, member, done, install)
    assert broken(firm) == []


def test_a_finding_changed_in_a_kept_check_is_named(firm, member, done, install):
    check = checked(firm, member, done, install)
    changed = compressed(check.stored | {"findings": []})
    by_sql("UPDATE compliance_storedcheck SET body = %s WHERE uuid = %s", changed, key_of(check))
    assert broken(firm) == [(f"{done.number} v1", "log/check_changed")]


def test_an_outcome_that_is_shown_other_than_the_check_came_to_is_named(firm, member, done, install):
    check = checked(firm, member, done, install)
    other = "not_applicable"
    assert check.outcome != other
    by_sql("UPDATE compliance_storedcheck SET outcome = %s WHERE uuid = %s", other, key_of(check))
    assert broken(firm) == [(f"{done.number} v1", "log/check_changed")]


def test_a_check_exchanged_with_its_digest_is_not_the_one_that_was_signed(firm, member, done, install):
    check = checked(firm, member, done, install)
    other = check.stored | {"findings": []}
    by_sql(
        "UPDATE compliance_storedcheck SET body = %s, digest = %s WHERE uuid = %s",
        compressed(other),
        digest(canonical_bytes(other)),
        key_of(check),
    )
    assert broken(firm) == [(f"{done.number} v1", "log/check_other")]


def test_a_check_that_was_taken_out_is_missed(firm, member, done, install):
    check = checked(firm, member, done, install)
    by_sql("DELETE FROM compliance_checkcontext WHERE check_made_id = %s", key_of(check))
    by_sql("DELETE FROM compliance_storedcheck WHERE uuid = %s", key_of(check))
    assert broken(firm) == [(f"{done.number} v1", "log/check_gone")]
