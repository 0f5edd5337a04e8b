"""After its term, without a hold, what a record says of people goes; what proves the record stays and holds."""

import json
from datetime import UTC, date, datetime, timedelta
from zipfile import ZipFile

import pytest
from django.apps import apps
from django.core.exceptions import PermissionDenied
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from records.bundle import verify_records
from records.bundle.writer import write_bundle
from records.document.edits import Edit
from records.document.erasure import erasure
from records.document.personal import PERSONAL, STAYS
from records.document.section_lines import lines_of, without
from records.document.signatures import plain_signature
from records.document.types import TreatmentDocument
from records.log_check import look_at_log
from records.models import (
    AuditEntry,
    Erasure,
    LegalHold,
    Photo,
    RegisterTerm,
    SignedRecord,
    Treatment,
    TreatmentEdit,
)
from records.record_files import record_file
from records.selectors import document_of
from records.services.corrections import NotSignedError, start_correction
from records.services.drafts import edit_draft
from records.services.erasing import NotErasableError, erase
from records.services.holds import NoHoldError, hold, lift, standing_hold
from records.services.keys import signing_key
from records.services.log import append
from records.services.photo_store import original
from records.services.planning import plan_treatment
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import leaf_hash
from shared.orm import triggers
from tests.records.test_bundle import change, failing, unpacked
from tests.records.test_log import by_sql, sign_now

UNTIL, AFTER = date(2028, 9, 14), date(2028, 9, 15)
THEN = datetime(2028, 9, 15, 20, tzinfo=UTC)
UNDER = ["us-wa/retention/seven-years"]
SET_LINES = "UPDATE records_signedrecord SET section_lines = %s"


@pytest.fixture
def signed(done, member) -> Treatment:
    """Two versions, with a customer, a site, people and notes."""
    edit_draft(done, [Edit("n", "notes", "A. Marlowe's dog was indoors", done.revision)], member.user)
    sign_now(done, member)
    sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    done.refresh_from_db()
    return done


@pytest.fixture
def photo(signed, member) -> Photo:
    row = Photo.objects.create(
        firm=signed.firm, treatment=signed, sha256="ab" * 32, bytes=1, by=member.user, received_at=clock.now()
    )
    original(row).parent.mkdir(parents=True)
    original(row).write_bytes(b"x")
    return row


def versions(treatment: Treatment) -> list[SignedRecord]:
    return list(SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment).order_by("version"))


def erased(treatment: Treatment) -> Treatment:
    with clock.at(THEN):
        erase(treatment, UNTIL, UNDER, AFTER)
    return Treatment.objects.for_firm(treatment.firm).get(pk=treatment.pk)


def test_every_section_of_a_document_was_decided_on():
    assert PERSONAL.keys().isdisjoint(STAYS)
    members = {field.alias or name for name, field in TreatmentDocument.model_fields.items()}
    assert PERSONAL.keys() | STAYS.keys() == members - {"record"}


def test_sections_with_people_and_their_salts_go_from_every_version_and_the_others_stay(signed):
    before = versions(signed)
    erased(signed)
    for was, now in zip(before, versions(signed), strict=True):
        assert now.sections == {name: part for name, part in was.sections.items() if name in STAYS}
        assert now.salts.keys() == now.sections.keys()
        assert (bytes(now.record), now.digest) == (bytes(was.record), was.digest)
    assert {"mixes", "timing", "surfaces"} <= now.sections.keys()


def test_no_row_of_the_treatment_names_the_customer_any_more(signed, photo, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        now = erased(signed)
    said = json.dumps([now.document, [each.sections for each in versions(now)], now.unread])
    keys = now.customer_key + now.site_key
    assert "marlowe" not in (said + now.customer_name + now.site_name + now.applicators + keys).lower()
    terms = {term.folded for term in RegisterTerm.objects.for_firm(now.firm)}
    assert any("moss" in term for term in terms)
    assert not any("marlowe" in term or "osei" in term or "heron" in term for term in terms)
    assert not TreatmentEdit.objects.for_firm(now.firm).filter(treatment=now).exists()
    assert not Photo.objects.for_firm(now.firm).filter(treatment=now).exists()
    assert not original(photo).exists()


def test_no_digest_of_the_whole_document_stays_that_would_tell_a_right_guess(signed):
    assert all(each.document_digest for each in versions(signed))
    assert [each.document_digest for each in versions(erased(signed))] == ["", ""]


def test_who_did_what_says_of_an_erased_record_no_more_than_what_was_done(signed):
    entries = AuditEntry.objects.for_firm(signed.firm).filter(treatment=signed)
    before = {entry.pk: entry for entry in entries}
    assert {"customer", "notes", "mixes"} <= {name for entry in before.values() for name in entry.changes}
    erased(signed)
    for entry in entries.all():
        was = before[entry.pk]
        assert entry.changes == {name: of for name, of in was.changes.items() if name not in PERSONAL}
        assert (entry.at, entry.by, entry.kind, entry.thing_id) == (was.at, was.by, was.kind, was.thing_id)
    told = AuditEntry.objects.for_firm(signed.firm).get(kind="erased")
    assert (told.thing, told.reason) == ("records.erasure", UNDER[0])
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        entries.update(changes={})


def test_holds_and_their_ends_stand_in_who_did_what(signed, colleague):
    hold(signed, "a claim", colleague.user)
    lift(signed, "settled", colleague.user)
    kinds = ["records.legalhold", "records.holdlifted"]
    entries = AuditEntry.objects.for_firm(signed.firm).filter(thing__in=kinds)
    assert [(entry.by, entry.reason) for entry in entries.order_by("pk")] == [
        (colleague.user, "a claim"),
        (colleague.user, "settled"),
    ]


def test_the_log_still_holds_and_says_what_was_erased_when_and_under_which_rule(signed, capsys):
    name = signed.number
    erased(signed)
    looked = look_at_log(signed.firm)
    assert looked.broken == []
    assert [each.whose for each in looked.erased] == [f"{name} v1", f"{name} v2"]
    with pytest.raises(SystemExit) as ended:
        call_command("verify_log")
    said = capsys.readouterr().out
    assert ended.value.code == 0
    assert f"erased  {name} v1: customer, notes, people, site, " in said
    assert "on 2028-09-15 under us-wa/retention/seven-years" in said


def test_a_section_that_was_taken_out_without_an_erasure_is_named(signed):
    by_sql(f"{SET_LINES} WHERE version = 1", lines_without(signed, "notes"))
    assert ("log/section_gone", "notes") in [
        (each.fault.wording, each.fault.blanks["section"]) for each in look_at_log(signed.firm).broken
    ]


def test_a_bundle_with_an_erased_record_verifies_and_says_so(signed, tmp_path, monkeypatch, capsys):
    erased(signed)
    with (tmp_path / "bundle.zip").open("wb") as out:
        write_bundle(signed.firm, [signed.pk], out)
    with ZipFile(tmp_path / "bundle.zip") as archive:
        archive.extractall(tmp_path / "bundle")
    monkeypatch.setattr("sys.argv", ["verify_records.py", str(tmp_path / "bundle")])
    assert verify_records.main() == 0
    said = capsys.readouterr().out
    assert "customer: erased on 2028-09-15 under us-wa/retention/seven-years, kept until 2028-09-14" in said


def erased_bundle(treatment, folder):
    erased(treatment)
    return unpacked(treatment.firm, treatment, folder)


def shortened(log):
    """The term of the erasure, as if it had ended on the day of the erasing."""
    log["erasures"][0]["statement"]["kept_until"] = "2028-09-15"


@pytest.mark.parametrize(
    ("forge", "said"),
    [
        (lambda log: log.update(erasures=[]), "customer: it is said to be erased, and no signed entry"),
        (shortened, "after its term: it was erased within the term that it states"),
        (lambda log: log["erasures"][0].update(index=1), "the log does not hold these bytes at that place"),
        (
            lambda log: log["erasures"][0]["statement"].update(under=["another"]),
            "signature by the service: what was signed, or the signature, was changed",
        ),
    ],
)
def test_an_erasure_in_a_bundle_that_the_log_does_not_vouch_for_fails(signed, tmp_path, forge, said):
    folder = erased_bundle(signed, tmp_path / "bundle")
    change(folder, "log.json", forge)
    assert any(said in line for line in failing(folder))


def test_the_record_file_says_what_was_erased(signed):
    erased(signed)
    said = record_file(versions(signed)[1])["erased"]
    assert (said["on"], said["under"]) == ("2028-09-15", UNDER)
    assert "customer" in said["sections"]


def test_on_the_last_day_of_the_term_and_before_nothing_is_erased(signed):
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, UNTIL)
    assert "customer" in document_of(versions(signed)[0])


def test_a_draft_and_an_open_correction_are_not_erased(draft, signed, member):
    with pytest.raises(NotErasableError):
        erase(start_correction(signed, member.user, "the lot was misread"), UNTIL, UNDER, AFTER)
    assert not Erasure.objects.for_firm(draft.firm).exists()


def test_what_is_held_is_not_erased_until_the_hold_is_lifted(signed, colleague):
    hold(signed, "a claim of the neighbour", colleague.user)
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, AFTER)
    lift(signed, "settled", colleague.user)
    assert "customer" not in erased(signed).document


def test_a_hold_and_its_end_are_kept_with_who_when_and_why(signed, colleague):
    first = hold(signed, "a claim", colleague.user)
    assert hold(signed, "a second one", colleague.user) == first
    ended = lift(signed, "settled", colleague.user)
    again = hold(signed, "appealed", colleague.user)
    assert (first.reason, ended.reason, ended.by) == ("a claim", "settled", colleague.user)
    assert standing_hold(signed) == again
    assert LegalHold.objects.for_firm(signed.firm).count() == 2


def test_only_a_manager_holds_lifts_and_erases(signed, member, colleague):
    with pytest.raises(PermissionDenied):
        hold(signed, "a claim", member.user)
    hold(signed, "a claim", colleague.user)
    with pytest.raises(PermissionDenied):
        lift(signed, "settled", member.user)
    with pytest.raises(PermissionDenied):
        erase(signed, UNTIL, UNDER, AFTER, member.user)


def test_a_hold_wants_a_reason_and_what_is_not_held_is_not_lifted(signed, colleague):
    with pytest.raises(ValueError, match="reason"):
        hold(signed, " ", colleague.user)
    with pytest.raises(NoHoldError):
        lift(signed, "settled", colleague.user)


def test_an_erased_record_is_erased_once_and_neither_corrected_nor_made_void(signed, member, colleague):
    erased(signed)
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, AFTER)
    with pytest.raises(NotSignedError):
        start_correction(signed, member.user, "too late")
    with pytest.raises(ValueError, match=signed.number):
        void(signed, "too late", Signer(colleague.user))


def wordings(treatment: Treatment) -> set[str]:
    return {one.fault.wording for one in look_at_log(treatment.firm).broken}


def test_an_erasure_is_signed_and_an_entry_of_the_log(signed):
    erased(signed)
    row = Erasure.objects.for_firm(signed.firm).get()
    stated = json.loads(bytes(row.record))
    assert (stated["schema"], stated["treatment"], stated["under"]) == ("erasure/1", str(signed.pk), UNDER)
    assert (stated["on"], stated["kept_until"], stated["by"]) == ("2028-09-15", "2028-09-14", None)
    assert stated["sections"] == sorted(PERSONAL)
    assert bytes(row.entry.leaf) == leaf_hash(bytes(row.record))
    assert row.entry.index == 2


def test_sections_that_went_by_a_row_that_nobody_signed_are_named(signed):
    """One INSERT and one UPDATE, within the term, with all triggers standing."""
    witness(signed)
    with connection.cursor() as cursor:
        cursor.execute(f"{SET_LINES} WHERE version = 1", [lines_without(signed, "customer", "site")])
    assert "log/erasure_unsigned" in wordings(signed)


def restate(treatment: Treatment, **other: object) -> None:
    """An erasure as who holds the firm's key can sign it, and enter it."""
    _row, private = signing_key(treatment.firm)
    said = {"kept_until": UNTIL, "under": UNDER, "on": AFTER, "by": None, "at": THEN}
    changed = {name: value for name, value in other.items() if name in said}
    stated = erasure(str(treatment.firm_id), str(treatment.pk), **said | changed, private=private)
    if "sections" in other:
        stated = {name: part for name, part in stated.items() if name != "signatures"}
        stated["sections"] = other["sections"]
        stated["signatures"] = [plain_signature(stated, private)]
    data = canonical_bytes(stated)
    row = Erasure.objects.create(
        firm=treatment.firm, treatment=treatment, sections=stated["sections"],
        kept_until=other.get("kept", UNTIL), under=UNDER, on=AFTER, at=THEN, record=data, digest=digest(data),
    )  # fmt: skip
    with clock.at(THEN):
        append(treatment.firm, row, private)


@pytest.mark.parametrize(
    ("other", "why"),
    [
        ({"on": UNTIL}, "log/erasure_other"),
        ({"at": THEN - timedelta(days=400)}, "log/erasure_other"),
        ({"sections": [*sorted(PERSONAL), "mixes"]}, "log/erasure_other"),
        ({"kept": UNTIL - timedelta(days=9)}, "log/row_says_other"),
        ({}, None),
    ],
)
def test_an_erasure_that_was_signed_within_the_term_or_of_too_much_is_named(signed, other, why):
    restate(signed, **other)
    assert (why in wordings(signed)) if why else not wordings(signed)


def test_an_erasure_that_was_signed_while_a_hold_stood_is_named(signed, colleague):
    hold(signed, "a claim", colleague.user)
    restate(signed)
    assert "log/erased_while_held" in wordings(signed)


def test_an_erasure_whose_bytes_were_changed_is_named(signed):
    erased(signed)
    row = Erasure.objects.for_firm(signed.firm).get()
    changed = bytes(row.record).replace(b"2028-09-14", b"2027-09-14")
    by_sql("UPDATE records_erasure SET record = %s", changed)
    assert {"log/leaf_changed", "log/digest_changed", "signed/broken_signature"} <= wordings(signed)


def test_the_database_takes_no_erasure_within_its_own_term(signed):
    with pytest.raises(IntegrityError), transaction.atomic():
        witness(signed, on=UNTIL)


def test_by_an_erasure_within_its_term_the_database_lets_nothing_go_even_if_it_was_taken(signed):
    with connection.cursor() as cursor:
        cursor.execute(
            "PRAGMA ignore_check_constraints = ON"
            if connection.vendor == "sqlite"
            else "ALTER TABLE records_erasure DROP CONSTRAINT nothing_is_erased_within_its_term"
        )
        witness(signed, on=UNTIL)
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA ignore_check_constraints = OFF")
    refused(f"{SET_LINES} WHERE version = 1", lines_without(signed, "customer", "site"))


def refused(sql: str, *values: object) -> None:
    with (
        pytest.raises(IntegrityError, match="never changed or removed"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(sql, values)


def witness(treatment: Treatment, on: date = AFTER) -> Erasure:
    """An erasure that names two sections, with the sections still there."""
    return Erasure.objects.create(
        firm=treatment.firm, treatment=treatment, sections=["customer", "site"], kept_until=UNTIL,
        under=UNDER, on=on,
    )  # fmt: skip


def lines_without(treatment: Treatment, *names: str) -> bytes:
    return without(bytes(versions(treatment)[0].section_lines), names)


def test_the_database_lets_no_section_go_that_no_erasure_names(signed):
    sql = f"{SET_LINES} WHERE version = 1"
    refused(sql, lines_without(signed, "customer", "site"))
    witness(signed)
    refused(sql, lines_without(signed, "mixes"))
    refused(sql, lines_without(signed, "customer", "site", "mixes"))
    with connection.cursor() as cursor:
        cursor.execute(sql, [lines_without(signed, "customer", "site")])
    assert {"customer", "site"}.isdisjoint(versions(signed)[0].sections)


@pytest.mark.parametrize(
    "change",
    [
        lambda lines: lines.replace(b"moss", b"mosS", 1),
        lambda lines: lines.replace(b'["notes"', b'[ "notes"', 1),
        lambda lines: lines + b"\n",
        lambda lines: lines + b'\n["zeal","00",1]',
        lambda lines: b"\n".join(lines.split(b"\n")[::-1]),
        lambda lines: lines + b"\n" + lines.split(b"\n")[0],
        lambda lines: b"",
    ],
)
def test_the_database_lets_no_section_change_even_while_others_go(signed, change):
    witness(signed)
    kept = lines_without(signed, "customer", "site")
    assert change(kept) != kept
    refused(f"{SET_LINES} WHERE version = 1", change(kept))


def test_sections_with_any_letters_in_them_can_be_erased(signed):
    """What the database compares is the text as it was written, escapes and all."""
    odd = {"customer": {"name": "x"}, "firm": {"a": [], "b": {}}, "targets": ["\u2028 \u0001 \\/ \"'] \t é 😀"]}
    lines = lines_of(odd, dict.fromkeys(odd, "00"))
    by_sql(f"{SET_LINES} WHERE version = 1", lines)
    triggers.install(sender=apps.get_app_config("records"))
    erased(signed)
    assert versions(signed)[0].sections == {name: odd[name] for name in ("targets", "firm")}


@pytest.mark.parametrize("column", ["digest", "reason", "document_digest", "kind"])
def test_no_other_column_changes_with_an_erasure_either(signed, column):
    witness(signed)
    refused(f"UPDATE records_signedrecord SET {column} = 'x' WHERE version = 1")
    refused("DELETE FROM records_signedrecord WHERE version = 1")


def test_an_erasure_of_one_treatment_lets_nothing_go_of_another(signed, plan, member):
    other = plan_treatment(signed.firm, member.user, plan)
    sign_now(other, member)
    witness(other)
    refused(
        f"{SET_LINES} WHERE treatment_id = %s AND version = 1",
        lines_without(signed, "customer", "site"),
        signed.pk.hex if connection.vendor == "sqlite" else signed.pk,
    )


def test_an_erasure_and_a_hold_are_themselves_append_only(signed, colleague):
    hold(signed, "a claim", colleague.user)
    lift(signed, "settled", colleague.user)
    witness(signed)
    for table in ("erasure", "legalhold", "holdlifted"):
        refused(f"UPDATE records_{table} SET by_id = NULL")
        refused(f"DELETE FROM records_{table}")


def test_the_triggers_of_shrinking_rows_stand(db):
    assert triggers.missing(connection) == []
