"""The firm's log: what is signed is entered, once, in order; and what is changed behind its back is named."""

import json
from datetime import datetime, timedelta

import pytest
from django.db import IntegrityError, connection, transaction

from records.document.section_lines import BREAK
from records.document.signatures import with_signature
from records.log import FirmTree
from records.log_check import look_at_log
from records.models import (
    LogEntry,
    LogLook,
    LogNode,
    SignedFollowUp,
    SignedRecord,
    SigningKey,
    Treatment,
    TreeHead,
)
from records.services.corrections import start_correction
from records.services.follow_ups import sign_follow_up
from records.services.keys import signing_key
from records.services.signing import Attachments, sign, void
from records.services.to_sign import Signer, document_to_sign
from shared.canonical import canonical_bytes
from shared.digests import digest, named
from shared.merkle import consistency_proof, extends, includes, inclusion_proof, leaf_hash, root
from shared.orm import triggers

AT = datetime.fromisoformat("2026-09-15T09:00:00-07:00")


def sign_now(treatment, membership) -> SignedRecord:
    treatment.refresh_from_db()
    signer = Signer(membership.user)
    return sign(treatment, document_to_sign(treatment, signer), Attachments(), signer, treatment.revision)


@pytest.fixture
def logged(done, member, colleague) -> list[SignedRecord | SignedFollowUp]:
    """Seven signed things of one firm in the order in which they came in."""
    first = sign_now(done, member)
    made = [first, sign_follow_up(done, Signer(member.user), kind="copy-given", at=AT)]
    made.append(sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="rinsed again"))
    correction = start_correction(done, member.user, "wind was read at noon")
    made.append(sign_now(correction, member))
    made.append(sign_follow_up(done, Signer(member.user), kind="sign-removed", at=AT + timedelta(days=1)))
    made.append(sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="filed"))
    done.refresh_from_db()
    made.append(void(done, "it was the neighbour's roof", Signer(colleague.user)))
    return made


def broken(firm) -> list[tuple[str, str]]:
    return [(one.whose, one.fault.wording) for one in look_at_log(firm).broken]


def by_sql(statement: str, *values: object) -> None:
    """Change rows as who holds the database file can: with the triggers down."""
    triggers.remove(connection)
    with connection.cursor() as cursor:
        cursor.execute(statement, values)


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


def test_one_byte_changed_in_a_signed_record_is_named(logged, firm, done):
    changed = bytes(logged[0].record).replace(b"R. Osei", b"R. Osel", 1)
    by_sql("UPDATE records_signedrecord SET record = %s WHERE uuid = %s", changed, key_of(logged[0]))
    name = f"{done.number} v1"
    assert {("log/leaf_changed"), ("log/digest_changed")} <= {
        what for whose, what in broken(firm) if whose == name
    }


@pytest.mark.parametrize("column", ["record", "section_lines"])
def test_a_byte_changed_anywhere_in_what_is_signed_is_named(logged, firm, done, column):
    data = bytes(getattr(logged[0], column))
    for place in range(0, len(data), len(data) // 9):
        changed = bytearray(data)
        changed[place] ^= 1
        by_sql(
            f"UPDATE records_signedrecord SET {column} = %s WHERE uuid = %s", bytes(changed), key_of(logged[0])
        )
        assert f"{done.number} v1" in [whose for whose, _what in broken(firm)], place


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b"3", b"\xff", b'{"signatures":[{}]}', b"[" * 100_000])
def test_bytes_that_say_nothing_are_named_even_where_leaf_and_digest_fit_them(logged, firm, done, data):
    by_sql(
        "UPDATE records_signedrecord SET record = %s, digest = %s WHERE uuid = %s",
        data,
        digest(data),
        key_of(logged[0]),
    )
    by_sql("UPDATE records_logentry SET leaf = %s WHERE record_id = %s", leaf_hash(data), key_of(logged[0]))
    assert f"{done.number} v1" in [whose for whose, _what in broken(firm)]


def test_a_head_that_says_nothing_is_found(logged, firm):
    by_sql("UPDATE records_treehead SET head = %s WHERE size = 4", "[]")
    assert ("", "log/head_differs") in broken(firm)


def test_one_byte_changed_in_a_section_is_named(logged, firm, done):
    lines = bytes(logged[0].section_lines).replace(b"moss", b"mosS", 1)
    by_sql("UPDATE records_signedrecord SET section_lines = %s WHERE uuid = %s", lines, key_of(logged[0]))
    assert broken(firm) == [(f"{done.number} v1", "signed/section_changed")]


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


@pytest.fixture
def unchecked():
    """Rows may point to what was taken out, until the test is over."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


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


def test_a_section_that_stands_there_twice_is_named(logged, firm, done):
    lines = bytes(logged[0].section_lines)
    first = lines.partition(BREAK)[0]
    doubled = BREAK.join([lines, first])
    by_sql("UPDATE records_signedrecord SET section_lines = %s WHERE uuid = %s", doubled, key_of(logged[0]))
    assert broken(firm) == [(f"{done.number} v1", "signed/twice")]


def test_two_entries_that_changed_places_are_named(logged, firm, done):
    for old, new in ((1, 90), (2, 1), (90, 2)):
        by_sql('UPDATE records_logentry SET "index" = %s WHERE "index" = %s', new, old)
    found = broken(firm)
    assert (f"{done.number} v1, copy-given", "log/clock_set_back") in found
    assert ("", "log/head_differs") in found


def test_an_entry_that_was_numbered_anew_is_named(logged, firm, done):
    by_sql('UPDATE records_logentry SET "index" = 9 WHERE "index" = 6')
    assert (f"{done.number} v3", "log/gap") in broken(firm)


def test_a_record_that_was_given_another_number_is_named(logged, firm, done):
    by_sql("UPDATE records_treatment SET number = %s", "2026-9999")
    assert ("2026-9999 v1", "log/row_says_other") in broken(firm)


def test_two_signatures_that_were_swapped_are_named(logged, firm, done):
    one, other = (json.loads(bytes(row.record)) for row in (logged[1], logged[2]))
    one["signatures"], other["signatures"] = other["signatures"], one["signatures"]
    for row, stated in ((logged[1], one), (logged[2], other)):
        data = canonical_bytes(stated)
        by_sql(
            "UPDATE records_signedfollowup SET record = %s, digest = %s WHERE uuid = %s",
            data,
            digest(data),
            key_of(row),
        )
        by_sql("UPDATE records_logentry SET leaf = %s WHERE follow_up_id = %s", leaf_hash(data), key_of(row))
    found = broken(firm)
    for kind in ("copy-given", "note"):
        assert (f"{done.number} v1, {kind}", "signed/broken_signature") in found
    assert ("", "log/head_differs") in found


def test_an_old_head_in_the_place_of_the_newest_is_found(logged, firm):
    by_sql("DELETE FROM records_treehead WHERE size = 7")
    assert ("", "log/not_covered") in broken(firm)
    by_sql("UPDATE records_treehead SET size = 7 WHERE size = 6")
    assert ("", "log/head_differs") in broken(firm)


def test_a_record_forged_with_another_firms_key_is_named(logged, firm, done, stranger):
    _row, private = signing_key(stranger.firm)
    stated = json.loads(bytes(logged[6].record))
    del stated["signatures"]
    said = {"by": "J. Quill", "role": "manager", "meaning": "void", "claimed_at": AT.isoformat()}
    data = canonical_bytes(with_signature(stated, private, **said))
    by_sql(
        "UPDATE records_signedrecord SET record = %s, digest = %s WHERE uuid = %s",
        data,
        digest(data),
        key_of(logged[6]),
    )
    by_sql("UPDATE records_logentry SET leaf = %s WHERE record_id = %s", leaf_hash(data), key_of(logged[6]))
    assert (f"{done.number} v3", "signed/unknown_key") in broken(firm)
    assert SigningKey.objects.for_firm(firm).count() == 1


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
def test_a_moment_moved_by_two_minutes_is_named_also_where_the_heads_own_column_says_it(
    logged, firm, done, at
):
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


def test_heads_taken_out_from_the_first_on_do_not_pass_for_entries_from_before_there_were_any(logged, firm):
    found = named(FirmTree(firm).read(lambda full: root(3, full)))
    LogLook.objects.create(firm=firm, entries=3, root=found, faults=0)
    assert broken(firm) == []
    by_sql("DELETE FROM records_treehead WHERE size < 7")
    assert broken(firm) == [("", "log/heads_gone")]


def test_a_kept_hash_that_was_changed_is_found(logged, firm):
    by_sql("UPDATE records_lognode SET hash = %s WHERE level = 2 AND place = 0", bytes(32))
    assert (f"{logged[0].treatment.number} v2", "log/node_changed") in broken(firm)


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


def key_of(row) -> str:
    return row.pk.hex if connection.vendor == "sqlite" else str(row.pk)


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
