"""The firm's log: what is signed is entered, once, in order, and proven by heads and kept hashes."""

import pytest
from django.db import IntegrityError, connection, transaction

from records.log import FirmTree
from records.log_check import look_at_log
from records.models import LogEntry, LogNode, Treatment, TreeHead
from records.services.follow_ups import sign_follow_up
from records.services.to_sign import Signer
from shared.digests import named
from shared.merkle import consistency_proof, extends, includes, inclusion_proof, leaf_hash, root
from tests.records.logged import AT, broken, by_sql, key_of


def test_whatever_is_signed_has_an_entry_at_the_next_index(logged, firm):
    entries = list(LogEntry.objects.for_firm(firm).order_by("index"))
    assert [entry.index for entry in entries] == list(range(7))
    assert [entry.record or entry.follow_up for entry in entries] == logged
    assert [bytes(entry.leaf) for entry in entries] == [leaf_hash(bytes(row.record)) for row in logged]


def test_every_entry_is_covered_by_a_signed_head(logged, firm):
    heads = list(TreeHead.objects.for_firm(firm).order_by("size"))
    assert [head.size for head in heads] == list(range(1, 8))
    tree = FirmTree(firm)
    assert heads[6].head["root"] == named(tree.read(lambda full: root(7, full)))


def test_proofs_come_out_of_the_kept_hashes(logged, firm):
    tree = FirmTree(firm)
    whole, earlier = (tree.read(lambda full, size=size: root(size, full)) for size in (7, 3))
    for index, row in enumerate(logged):
        proof = FirmTree(firm).read(lambda full, index=index: inclusion_proof(index, 7, full))
        assert includes(leaf_hash(bytes(row.record)), index, 7, proof, whole)
    assert extends(3, earlier, 7, whole, tree.read(lambda full: consistency_proof(3, 7, full)))


def test_a_log_that_nobody_touched_holds(logged, firm):
    looked = look_at_log(firm)
    assert (looked.broken, looked.entries, looked.heads) == ([], 7, 7)
    assert named(looked.root) == TreeHead.objects.for_firm(firm).first().head["root"]


def test_a_firm_that_signed_nothing_has_a_log_that_holds(firm):
    assert look_at_log(firm).broken == []


def test_firms_have_logs_of_their_own(logged, stranger):
    assert look_at_log(stranger.firm).entries == 0


def test_what_was_signed_before_there_was_a_log_is_entered_first(logged, firm, done, colleague):
    for model in (TreeHead, LogNode, LogEntry):
        by_sql(f"DELETE FROM {model._meta.db_table}")
    later = sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="after the upgrade")
    entries = LogEntry.objects.for_firm(firm).order_by("index")
    assert [entry.record or entry.follow_up for entry in entries] == [*logged, later]
    looked = look_at_log(firm)
    assert (looked.broken, looked.before_heads) == ([], 7)


@pytest.mark.parametrize("statement", ["firm_id = %s", "number = '2026-9999'", "uuid = %s"])
def test_the_database_keeps_firm_number_and_id_of_a_treatment_that_is_signed(
    logged, firm, done, stranger, statement
):
    other = stranger.firm.pk.hex if connection.vendor == "sqlite" else str(stranger.firm.pk)
    values = [other] if "%s" in statement else []
    with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(f"UPDATE records_treatment SET {statement} WHERE uuid = %s", [*values, key_of(done)])
        connection.check_constraints()
    assert broken(firm) == []


def test_a_draft_may_still_be_given_another_number(firm, done):
    with connection.cursor() as cursor:
        cursor.execute("UPDATE records_treatment SET number = '2026-9999'")
    assert Treatment.objects.for_firm(firm).get().number == "2026-9999"
