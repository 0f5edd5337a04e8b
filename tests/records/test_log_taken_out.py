"""What was taken out of the log, moved in it or to another firm is missed by a look."""

import pytest
from django.db import connection

from records.log import FirmTree
from records.log_check import look_at_log
from records.models import LogEntry, LogLook, LogNode, SignedFollowUp, SignedRecord, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.to_sign import Signer
from shared.digests import named
from shared.merkle import root
from tests.records.logged import AT, broken, by_sql, key_of


def test_a_record_that_was_taken_out_with_its_entry_is_missed(logged, firm, done):
    by_sql("DELETE FROM records_logentry WHERE follow_up_id = %s", key_of(logged[2]))
    by_sql("DELETE FROM records_signedfollowup WHERE uuid = %s", key_of(logged[2]))
    assert (f"{done.number} v2", "log/gap") in broken(firm)


def test_a_record_whose_entry_was_taken_out_is_named(logged, firm, done):
    by_sql("DELETE FROM records_logentry WHERE follow_up_id = %s", key_of(logged[2]))
    assert (f"{done.number} v1, note", "log/not_in_log") in broken(firm)


def test_the_last_entries_taken_out_leave_a_head_that_covers_more(logged, firm):
    by_sql("DELETE FROM records_logentry WHERE " + '"index" >= 6')
    assert ("", "log/head_beyond") in broken(firm)


def cut_off(logged, keep: int) -> None:
    """Take the end of the log out, heads and all, as who has no key can."""
    by_sql("DELETE FROM records_treehead WHERE size > %s", keep)
    by_sql('DELETE FROM records_logentry WHERE "index" >= %s', keep)
    for row in reversed(logged[keep:]):
        if isinstance(row, SignedRecord):
            by_sql("DELETE FROM records_proofaddress WHERE record_id = %s", key_of(row))
        by_sql(f"DELETE FROM {row._meta.db_table} WHERE uuid = %s", key_of(row))


def test_what_is_left_around_an_end_that_was_cut_off_is_named(logged, firm, done, unchecked):
    LogLook.objects.create(firm=firm, entries=7, root=named(bytes(32)), faults=1)
    cut_off(logged, 3)
    by_sql("UPDATE records_treatment SET state = 'signed'")
    assert broken(firm) == [
        ("", "log/shorter_than_before"),
        ("", "log/node_beyond"),
        (f"{done.number}, 2", "log/noted_and_gone"),
        (f"{done.number}, 2", "log/noted_and_gone"),
        (f"{done.number}, 3", "log/noted_and_gone"),
    ]
    cut_off(logged[:3], 0)
    found = broken(firm)
    assert (done.number, "log/signed_without_record") in found
    assert len([one for one in found if one[1] == "log/noted_and_gone"]) == 7


def test_a_proof_address_of_what_the_log_does_not_have_is_named(logged, firm, unchecked):
    by_sql("DELETE FROM records_logentry WHERE record_id = %s", key_of(logged[6]))
    by_sql("DELETE FROM records_signedrecord WHERE uuid = %s", key_of(logged[6]))
    assert ("", "log/address_without_entry") in broken(firm)


def test_an_entry_whose_row_is_gone_is_named_by_its_place(logged, firm, unchecked):
    for row, index in ((logged[6], 6), (logged[1], 1)):
        by_sql(f"DELETE FROM {row._meta.db_table} WHERE uuid = %s", key_of(row))
        gone = [one.fault.blanks for one in look_at_log(firm).broken if one.fault.wording == "log/row_gone"]
        assert {"index": str(index)} in gone


@pytest.mark.parametrize("place", [0, 1])
@pytest.mark.parametrize("table", ["treatment", "own"])
def test_what_was_moved_to_another_firm_is_named(logged, firm, done, stranger, table, place):
    moved = done if table == "treatment" else logged[place]
    other = stranger.firm.pk.hex if connection.vendor == "sqlite" else str(stranger.firm.pk)
    by_sql(f"UPDATE {moved._meta.db_table} SET firm_id = %s WHERE uuid = %s", other, key_of(moved))
    found = broken(firm)
    is_follow_up = table == "own" and isinstance(moved, SignedFollowUp)
    expected = ("", "log/row_gone") if is_follow_up else (f"{done.number} v1", "log/other_firm")
    assert expected in found
    theirs = [(done.number, "log/signed_without_record")] if table == "treatment" else []
    assert broken(stranger.firm) == theirs


def test_the_page_of_a_treatment_that_says_to_be_signed_and_is_not_answers_that_nothing_is_there(
    logged, done, stranger, client
):
    other = stranger.firm.pk.hex if connection.vendor == "sqlite" else str(stranger.firm.pk)
    by_sql("UPDATE records_treatment SET firm_id = %s WHERE uuid = %s", other, key_of(done))
    client.force_login(stranger.user)
    assert client.get(f"/treatments/{done.pk}/").status_code == 404


def test_two_entries_that_changed_places_are_named(logged, firm, done):
    for old, new in ((1, 90), (2, 1), (90, 2)):
        by_sql('UPDATE records_logentry SET "index" = %s WHERE "index" = %s', new, old)
    found = broken(firm)
    assert (f"{done.number} v1, copy-given", "log/clock_set_back") in found
    assert ("", "log/head_differs") in found


def test_an_entry_that_was_numbered_anew_is_named(logged, firm, done):
    by_sql('UPDATE records_logentry SET "index" = 9 WHERE "index" = 6')
    assert (f"{done.number} v3", "log/gap") in broken(firm)


def test_an_old_head_in_the_place_of_the_newest_is_found(logged, firm):
    by_sql("DELETE FROM records_treehead WHERE size = 7")
    assert ("", "log/not_covered") in broken(firm)
    by_sql("UPDATE records_treehead SET size = 7 WHERE size = 6")
    assert ("", "log/head_differs") in broken(firm)


def test_heads_taken_out_from_the_first_on_do_not_pass_for_entries_from_before_there_were_any(logged, firm):
    found = named(FirmTree(firm).read(lambda full: root(3, full)))
    LogLook.objects.create(firm=firm, entries=3, root=found, faults=0)
    assert broken(firm) == []
    by_sql("DELETE FROM records_treehead WHERE size < 7")
    assert broken(firm) == [("", "log/heads_gone")]


def test_a_log_that_was_rewritten_whole_does_not_fit_a_head_that_was_kept_elsewhere(
    logged, firm, colleague, done
):
    kept = TreeHead.objects.for_firm(firm).get(size=5).head
    assert look_at_log(firm, kept).broken == []
    for model in (TreeHead, LogNode, LogEntry):
        by_sql(f"DELETE FROM {model._meta.db_table}")
    by_sql("DELETE FROM records_signedfollowup WHERE uuid = %s", key_of(logged[2]))
    sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="nothing to see")
    assert broken(firm) == []
    assert [one.fault.wording for one in look_at_log(firm, kept).broken] == ["log/kept_head_differs"]
