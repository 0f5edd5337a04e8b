"""What was sealed on a device without a signal: signed as it was sealed, or kept with the reason why not."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied

from compliance.services.sealed import BadSealError, TooManySealsError, receive
from compliance.services.sealed_later import fit_later
from compliance.services.signing import prepare
from records import record_files, selectors
from records.document.canonical import as_json
from records.document.edits import Edit
from records.models import Seal, SignedRecord, Treatment
from records.services.device_keys import (
    TooManyKeysError,
    TooManyMadeError,
    keys_in_force,
    register,
    revoke,
)
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.sheets import sheet_of
from records.services.to_sign import Signer
from tests.compliance.services.sealing import BACK_IN_THE_YARD, ON_THE_ROOF
from tests.device import Device
from tests.factories import MembershipFactory

pytestmark = pytest.mark.usefixtures("in_the_yard")


@pytest.fixture
def sheet(done, member, in_the_yard) -> dict:
    """As it was kept on the morning of the day."""
    in_the_yard.shift(-timedelta(hours=8))
    sheet = sheet_of(done, member.user)
    in_the_yard.shift(timedelta(hours=8))
    return sheet


@pytest.fixture
def sent(device, done, member, sheet):
    return device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, sent_at=BACK_IN_THE_YARD)


def records_of(treatment: Treatment) -> list[SignedRecord]:
    return list(SignedRecord.objects.for_firm(treatment.firm))


def said(words: list[dict]) -> str:
    return " ".join(each["en"] for each in words)


def typed(treatment, user, path, value) -> None:
    treatment.refresh_from_db()
    edit_draft(treatment, [Edit(f"{path}-{value}", path, value, treatment.revision)], user)


def test_what_was_sealed_is_signed_to_the_letter_with_its_own_moment(done, member, sent):
    seal = receive(done, member.user, sent)
    (record,) = records_of(done)
    assert seal.signed_record == record
    assert bytes(seal.document) == sent.document.encode()
    assert selectors.document_of(record)["timing"]["recorded_at"] == ON_THE_ROOF.isoformat()
    assert record.document_digest == seal.digest
    (signature,) = record_files.record_file(record)["record"]["signatures"]
    assert signature["claimed_at"] == signature["device_at"] == ON_THE_ROOF.isoformat()


def test_sent_twice_it_is_one_record(done, member, sent):
    assert receive(done, member.user, sent) == receive(
        done, member.user, replace(sent, sent_at=sent.claimed_at)
    )
    assert len(records_of(done)) == Seal.objects.for_firm(done.firm).count() == 1


def test_reasons_given_on_the_device_stand_in_the_record_and_the_rest_is_put_before_the_manager(
    done, member, device, sheet
):
    findings = prepare(done, Signer(member.user)).open_findings
    given = {"rule": findings[0]["rule"], "about": findings[0]["about"], "reason": "No gauge on the rig."}
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, answers=[given], sent_at=BACK_IN_THE_YARD)
    seal = receive(done, member.user, sent)
    assert record_files.record_file(seal.signed_record)["record"]["answers"] == [given]
    assert said(seal.marks).startswith(f"Required and open, and without a reason: {len(findings) - 1}.")


def test_a_colleagues_later_change_keeps_it_from_being_signed_and_is_named(done, member, colleague, sent):
    typed(done, colleague.user, "notes", "Gate left open.")
    seal = receive(done, member.user, sent)
    assert seal.signed_record is None and not records_of(done)
    assert said(seal.why_not).startswith("Notes: what stands here is not what was signed on the device")
    done.refresh_from_db()
    assert done.is_open


def test_firm_customer_and_site_stand_as_the_device_had_them_although_the_rows_changed(done, member, sent):
    customer = done.site.customer
    customer.name = "B. Marlowe"
    customer.save()
    seal = receive(done, member.user, sent)
    assert selectors.document_of(seal.signed_record)["customer"]["name"] == "A. Marlowe"
    assert "Name of the customer stands as the device had it; it has changed since." in said(seal.marks)


def test_parts_that_no_sheet_had_are_not_taken(done, member, device, sheet):
    sheet["document"]["customer"]["name"] = "Somebody Else"
    sent = device.sealed(done, member.user, BACK_IN_THE_YARD, sheet=sheet, sent_at=BACK_IN_THE_YARD)
    seal = receive(done, member.user, sent)
    assert seal.signed_record is None
    assert "Name of the customer" in said(seal.why_not)


@pytest.mark.parametrize(
    "forged",
    [
        {"claimed_at": "2026-09-14T09:50:00-07:00"},
        {"answers": [{"rule": "us/any", "about": [], "reason": "never said"}]},
        {"value": "AAAA"},
        {"key": "00000000-0000-4000-8000-000000000000"},
    ],
)
def test_a_seal_that_does_not_hold_is_refused(done, member, sent, forged):
    with pytest.raises(BadSealError):
        receive(done, member.user, replace(sent, **forged))
    assert not Seal.objects.for_firm(done.firm)


def test_a_seal_holds_for_its_own_treatment_alone(done, member, plan, firm, sent):
    other = plan_treatment(firm, member.user, plan)
    with pytest.raises(BadSealError):
        receive(other, member.user, sent)


def test_nobody_seals_with_anothers_key_and_a_stranger_with_none(done, colleague, stranger, sent):
    with pytest.raises(BadSealError):
        receive(done, colleague.user, sent)
    with pytest.raises(PermissionDenied):
        receive(done, stranger.user, sent)


def test_a_document_that_is_not_in_canonical_form_or_no_document_is_refused(done, member, sent):
    with pytest.raises(BadSealError):
        receive(done, member.user, replace(sent, document=sent.document.replace('"notes"', ' "notes"') + " "))
    with pytest.raises(BadSealError):
        receive(done, member.user, replace(sent, document='{"schema":"treatment-document/1"}'))


def test_a_key_revoked_since_still_holds_for_what_it_sealed_before_and_is_marked(done, member, device, sent):
    revoke(device.key, member.user)
    seal = receive(done, member.user, sent)
    assert seal.signed_record
    assert "revoked since" in said(seal.marks)


def test_a_key_revoked_before_signs_nothing(done, member, device, in_the_yard):
    revoke(device.key, member.user)
    in_the_yard.shift(timedelta(hours=1))
    later = BACK_IN_THE_YARD + timedelta(minutes=30)
    seal = receive(done, member.user, device.sealed(done, member.user, later, sent_at=later))
    assert seal.signed_record is None
    assert "revoked before" in said(seal.why_not)


def test_a_device_whose_clock_is_three_hours_ahead_is_taken_and_marked(done, member, device):
    ahead = BACK_IN_THE_YARD + timedelta(hours=3)
    seal = receive(done, member.user, device.sealed(done, member.user, ahead, sent_at=ahead))
    assert seal.signed_record
    assert "180 minutes ahead when this was sent. Check the times." in said(seal.marks)
    assert (seal.claimed_at, seal.received_at) == (ahead, BACK_IN_THE_YARD)


def test_a_claim_in_the_future_by_a_clock_that_is_right_signs_nothing(done, member, device):
    future = BACK_IN_THE_YARD + timedelta(hours=3)
    sent = device.sealed(done, member.user, future, sent_at=BACK_IN_THE_YARD)
    assert receive(done, member.user, sent).signed_record is None


def test_what_was_signed_meanwhile_is_not_signed_again_and_the_seal_is_kept(done, member, device, sheet, sent):
    first = receive(done, member.user, sent)
    at = ON_THE_ROOF + timedelta(minutes=2)
    again = device.sealed(done, member.user, at, sheet=sheet, sent_at=BACK_IN_THE_YARD)
    second = receive(done, member.user, again)
    assert first.signed_record and second.signed_record is None
    assert len(records_of(done)) == 1


def test_a_draft_with_an_entry_that_cannot_be_read_waits(done, member, sent):
    typed(done, member.user, "timing.finished_at", "soon")
    assert receive(done, member.user, sent).signed_record is None


def test_a_key_is_registered_once_by_whoever_holds_it(member, colleague, firm, device):
    held = [device.public, device.signature(b"nonce"), b"nonce"]
    assert register(member.user, firm, "Yard phone", *held) == device.key
    with pytest.raises(ValueError):
        register(colleague.user, firm, "Yard phone", *held)
    with pytest.raises(ValueError):
        register(member.user, firm, "Yard phone", Device().public, device.signature(b"nonce"), b"nonce")


def test_a_person_has_a_handful_of_devices_and_a_manager_may_revoke_them(member, firm, colleague):
    keys = [Device().register(member.user, firm) for _ in range(10)]
    with pytest.raises(TooManyKeysError):
        Device().register(member.user, firm)
    with pytest.raises(PermissionDenied):
        revoke(keys[0], MembershipFactory(firm=firm).user)
    revoke(keys[0], colleague.user)
    assert keys_in_force(firm, member.user).count() == 9


def test_devices_that_are_set_up_and_ended_again_and_again_wait_for_the_next_day(member, firm, in_the_yard):
    for _ in range(20):
        revoke(Device().register(member.user, firm), member.user)
    with pytest.raises(TooManyMadeError):
        Device().register(member.user, firm)
    in_the_yard.shift(timedelta(days=1, minutes=1))
    assert Device().register(member.user, firm)


def test_the_sheet_is_what_would_be_signed_but_for_the_moment(done, member):
    sheet = sheet_of(done, member.user)
    document = as_json(prepare(done, Signer(member.user)).document)
    document["timing"].pop("recorded_at")
    assert sheet["document"] == document


def test_a_claim_from_before_the_key_or_the_sheet_signs_nothing(done, member, device, in_the_yard):
    before_the_sheet = device.sealed(done, member.user, ON_THE_ROOF, sent_at=BACK_IN_THE_YARD)
    seal = receive(done, member.user, before_the_sheet)
    assert seal.signed_record is None
    assert said(seal.why_not) == "It says that it was sealed before the device had what it sealed."
    newer = Device()
    newer.register(member.user, done.firm)
    seal = receive(done, member.user, newer.sealed(done, member.user, ON_THE_ROOF, sent_at=BACK_IN_THE_YARD))
    assert said(seal.why_not) == "It says that it was sealed before the key of the device was made."


def test_a_claim_from_before_the_key_or_the_sheet_signs_nothing_whatever_the_devices_clock_said(
    done, member, device, sheet, in_the_yard
):
    clocks = {"sent_at": BACK_IN_THE_YARD, "device_at": BACK_IN_THE_YARD}
    seal = receive(done, member.user, device.sealed(done, member.user, ON_THE_ROOF, **clocks))
    assert seal.signed_record is None
    assert said(seal.why_not) == "It says that it was sealed before the device had what it sealed."
    newer = Device()
    newer.register(member.user, done.firm)
    seal = receive(done, member.user, newer.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, **clocks))
    assert seal.signed_record is None
    assert said(seal.why_not) == "It says that it was sealed before the key of the device was made."


@pytest.mark.parametrize("days", [-400, 2, 3000])
def test_a_device_whose_clock_is_days_off_signs_nothing(done, member, device, sheet, days):
    off = BACK_IN_THE_YARD + timedelta(days=days)
    seal = receive(done, member.user, device.sealed(done, member.user, off, sheet=sheet, sent_at=off))
    assert seal.signed_record is None
    assert "more than a day off" in said(seal.why_not)


def test_a_clock_that_was_set_forward_to_send_does_not_reach_behind_a_revocation(
    done, member, device, sheet, in_the_yard
):
    revoke(device.key, member.user)
    in_the_yard.shift(timedelta(hours=1))
    claimed = BACK_IN_THE_YARD + timedelta(minutes=30)
    sent_at = BACK_IN_THE_YARD + timedelta(hours=20)
    seal = receive(done, member.user, device.sealed(done, member.user, claimed, sheet=sheet, sent_at=sent_at))
    assert seal.signed_record is None


def test_a_record_that_comes_in_days_later_is_marked(done, member, sent, in_the_yard):
    in_the_yard.shift(timedelta(days=3))
    later = (BACK_IN_THE_YARD + timedelta(days=3)).isoformat()
    seal = receive(done, member.user, replace(sent, sent_at=later))
    assert "It came in 79 hours after it was sealed. Ask why." in said(seal.marks)


def test_another_persons_sheet_proves_nothing(done, member, colleague, device):
    theirs = sheet_of(done, colleague.user)
    theirs["document"]["record"]["entered_by"] = member.user.name
    theirs["document"]["customer"]["name"] = "Somebody Else"
    sent = device.sealed(done, member.user, BACK_IN_THE_YARD, sheet=theirs, sent_at=BACK_IN_THE_YARD)
    assert receive(done, member.user, sent).signed_record is None


def test_only_so_many_that_do_not_fit_are_kept(done, member, colleague, device, sheet):
    typed(done, colleague.user, "notes", "Gate left open.")
    for minute in range(20):
        at = ON_THE_ROOF + timedelta(minutes=minute)
        receive(done, member.user, device.sealed(done, member.user, at, sheet=sheet, sent_at=BACK_IN_THE_YARD))
    with pytest.raises(TooManySealsError):
        at = ON_THE_ROOF + timedelta(minutes=30)
        receive(done, member.user, device.sealed(done, member.user, at, sheet=sheet, sent_at=BACK_IN_THE_YARD))


def test_one_persons_seals_do_not_shut_out_anothers(done, member, colleague, device, sheet):
    typed(done, colleague.user, "notes", "Gate left open.")
    for minute in range(20):
        at = ON_THE_ROOF + timedelta(minutes=minute)
        receive(done, member.user, device.sealed(done, member.user, at, sheet=sheet, sent_at=BACK_IN_THE_YARD))
    theirs = Device()
    theirs.register(colleague.user, colleague.firm)
    own = sheet_of(done, colleague.user)
    sent = theirs.sealed(done, colleague.user, BACK_IN_THE_YARD, sheet=own, sent_at=BACK_IN_THE_YARD)
    assert receive(done, colleague.user, sent).signed_record


@pytest.mark.parametrize("proof", ["", "junk"])
def test_without_proof_of_its_sheet_only_what_is_sealed_now_counts(done, member, sent, proof):
    seal = receive(done, member.user, replace(sent, proof=proof))
    assert seal.signed_record is None
    assert said(seal.why_not).startswith("Nothing shows that the device had what it sealed at the time")


def test_a_document_that_contradicts_itself_is_kept_with_the_reason(done, member, device, sheet):
    sheet["document"]["timing"] |= {"finished_at": "2026-09-14T08:00:00-07:00"}
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, sent_at=BACK_IN_THE_YARD)
    seal = receive(done, member.user, sent)
    assert (seal.record, bytes(seal.document)) == (None, sent.document.encode())
    assert "is before the start" in said(seal.why_not)
    typed(done, member.user, "notes", "Gate left open.")
    assert fit_later(done, member.user) is None


def test_a_clock_that_was_slow_does_not_hide_that_the_record_is_late(done, member, device, sheet, in_the_yard):
    in_the_yard.shift(timedelta(hours=20))
    slow = timedelta(hours=3)
    clocks = {"sent_at": BACK_IN_THE_YARD + timedelta(hours=20) - slow, "device_at": ON_THE_ROOF - slow}
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, **clocks)
    marks = said(receive(done, member.user, sent).marks)
    assert "180 minutes behind" in marks
    assert "It came in 27 hours after it was sealed" in marks


def test_a_clock_that_was_set_right_before_it_was_sent_is_marked(done, member, device, sheet):
    was = ON_THE_ROOF - timedelta(hours=3)
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, sent_at=BACK_IN_THE_YARD, device_at=was)
    marks = said(receive(done, member.user, sent).marks)
    assert "sealed at 2026-09-14 10:05-07:00; the clock of the device then said 2026-09-14 07:05-07:00" in marks


def test_a_claim_far_from_the_clock_is_marked_beside_a_clock_that_is_ahead(done, member, device, sheet):
    ahead = timedelta(hours=3)
    clocks = {"sent_at": BACK_IN_THE_YARD + ahead, "device_at": BACK_IN_THE_YARD + ahead}
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, **clocks)
    marks = said(receive(done, member.user, sent).marks)
    assert "180 minutes ahead" in marks
    assert "sealed at 2026-09-14 10:05-07:00; the clock of the device then said 2026-09-14 20:30-07:00" in marks
