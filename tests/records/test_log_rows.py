"""A row that says other than was signed, or another moment than it came in at, is named by a look."""

import json
from datetime import timedelta

import pytest

from records.log_check import look_at_log
from records.models import SignedRecord, TreeHead
from records.services.corrections import start_correction
from records.services.keys import signing_key
from tests.records.logged import AT, broken, by_sql, key_of, sign_now


def test_a_record_that_was_given_another_number_is_named(logged, firm, done):
    by_sql("UPDATE records_treatment SET number = %s", "2026-9999")
    assert ("2026-9999 v1", "log/row_says_other") in broken(firm)


@pytest.mark.parametrize(
    ("place", "column", "value", "named"),
    [
        (6, "kind", "corrected", "kind"),
        (6, "reason", "gate code added", "reason"),
        (3, "reason", "", "reason"),
        (1, "kind", "note", "kind"),
        (2, "at", "2026-09-15 16:00:01+00:00", "at"),
        (2, "follow_up", '{"kind": "note", "detail": "not rinsed"}', "detail"),
    ],
)
def test_a_column_that_says_other_than_was_signed_is_named(logged, firm, done, place, column, value, named):
    row = logged[place]
    by_sql(f"UPDATE {row._meta.db_table} SET {column} = %s WHERE uuid = %s", value, key_of(row))
    found = [one for one in look_at_log(firm).broken if one.fault.wording == "log/row_says_other"]
    version = row.version if isinstance(row, SignedRecord) else row.follows.version
    assert found[0].whose.startswith(f"{done.number} v{version}")
    assert named in [one.fault.blanks["member"] for one in found]


def test_a_version_kept_as_of_another_key_or_as_replacing_another_is_named(logged, firm, done, stranger):
    other, _private = signing_key(stranger.firm)
    by_sql("UPDATE records_signedrecord SET key_id = %s WHERE uuid = %s", key_of(other), key_of(logged[0]))
    by_sql("UPDATE records_signedfollowup SET key_id = %s WHERE uuid = %s", key_of(other), key_of(logged[1]))
    by_sql("UPDATE records_signedrecord SET replaces_id = NULL WHERE uuid = %s", key_of(logged[3]))
    found = [(one.whose, one.fault.blanks.get("member")) for one in look_at_log(firm).broken]
    assert sorted(found) == [
        (f"{done.number} v1", "key"),
        (f"{done.number} v1, copy-given", "key"),
        (f"{done.number} v2", "replaces"),
    ]


@pytest.mark.parametrize(
    ("versions", "wrong", "right"), [(1, "corrected", "correcting"), (2, "signed", "correcting")]
)
def test_a_state_that_does_not_fit_the_number_of_versions_is_named(done, firm, member, versions, wrong, right):
    sign_now(done, member)
    if versions == 2:
        sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    assert broken(firm) == []
    by_sql("UPDATE records_treatment SET state = %s", wrong)
    assert broken(firm) == [(f"{done.number} v{versions}", "log/row_says_other")]
    by_sql("UPDATE records_treatment SET state = %s", right)
    assert broken(firm) == []


@pytest.mark.parametrize("state", ["signed", "corrected", "draft", "brought-in"])
def test_a_void_treatment_that_is_listed_as_one_that_holds_is_named(logged, firm, done, state):
    by_sql("UPDATE records_treatment SET state = %s WHERE uuid = %s", state, key_of(done))
    assert broken(firm) == [(f"{done.number} v3", "log/row_says_other")]


def test_a_clock_that_was_set_back_is_named(logged, firm, done):
    by_sql('UPDATE records_logentry SET received_at = %s WHERE "index" = 4', AT - timedelta(days=400))
    assert (f"{done.number} v2, sign-removed", "log/clock_set_back") in broken(firm)


@pytest.mark.parametrize("tables", [["logentry"], ["signedrecord"], ["logentry", "signedrecord"]])
def test_a_record_that_is_said_to_have_come_in_at_another_time_is_named(logged, firm, done, tables):
    for table in tables:
        own = "record_id" if table == "logentry" else "uuid"
        later = logged[6].received_at + timedelta(days=1)
        by_sql(f"UPDATE records_{table} SET received_at = %s WHERE {own} = %s", later, key_of(logged[6]))
    assert {f"{done.number} v3"} == {whose for whose, what in broken(firm) if what == "log/received_other"}


@pytest.mark.parametrize("moved", [timedelta(minutes=2), timedelta(days=-1)])
def test_an_entry_whose_moment_was_moved_after_its_head_was_taken_out_is_named(logged, firm, done, moved):
    by_sql("DELETE FROM records_treehead WHERE size = 4")
    at = logged[3].received_at + moved
    by_sql("UPDATE records_signedrecord SET received_at = %s WHERE uuid = %s", at, key_of(logged[3]))
    by_sql("UPDATE records_logentry SET received_at = %s WHERE record_id = %s", at, key_of(logged[3]))
    assert (f"{done.number} v2", "log/no_own_head") in broken(firm)


@pytest.mark.parametrize("at", ["made_at", "head"])
def test_a_moment_moved_by_two_minutes_is_named_also_where_the_heads_own_column_says_it(logged, firm, done, at):
    later = logged[6].received_at + timedelta(minutes=2)
    for table, own in (("logentry", "record_id"), ("signedrecord", "uuid")):
        by_sql(f"UPDATE records_{table} SET received_at = %s WHERE {own} = %s", later, key_of(logged[6]))
    head = TreeHead.objects.for_firm(firm).get(size=7)
    if at == "made_at":
        by_sql("UPDATE records_treehead SET made_at = %s WHERE size = 7", later)
    else:
        stated = json.dumps({**head.head, "at": later.isoformat(timespec="microseconds")})
        by_sql("UPDATE records_treehead SET head = %s, made_at = %s WHERE size = 7", stated, later)
    assert ("", "log/head_differs" if at == "made_at" else "signed/broken_signature") in broken(firm)
