"""A mistake is mended by a new version that names the one it replaces; what happened later is added."""

from datetime import datetime, timedelta

import pytest

from records import record_files, selectors
from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.models import SignedFollowUp, SignedRecord, Treatment
from records.services.corrections import (
    AlreadyCorrectedError,
    NotSignedError,
    drop_correction,
    start_correction,
)
from records.services.drafts import WrittenFromRowsError, edit_draft
from records.services.follow_ups import FollowUpTimeError, sign_follow_up
from records.services.signing import Attachments, sign
from records.services.to_sign import ImplausibleTimeError, Signer, document_to_sign
from shared import clock

AT = datetime.fromisoformat("2026-09-15T09:00:00-07:00")


def sign_now(treatment: Treatment, membership) -> SignedRecord:
    treatment.refresh_from_db()
    signer = Signer(membership.user)
    return sign(treatment, document_to_sign(treatment, signer), Attachments(), signer, treatment.revision)


@pytest.fixture
def first(done, member) -> SignedRecord:
    return sign_now(done, member)


def test_a_correction_names_the_version_it_replaces_and_why(first, done, member):
    correction = start_correction(done, member.user, "wind was read at noon")
    edit_draft(correction, [Edit("e", "notes", "read at noon", correction.revision)], member.user)
    second = sign_now(correction, member)
    document = selectors.document_of(second)
    assert document["record"]["version"] == 2
    assert document["record"]["replaces"] == {"version": 1, "digest": first.digest}
    assert document["record"]["reason"] == "wind was read at noon"
    assert document["record"]["corrected_at"]
    assert document["timing"]["recorded_at"] == selectors.document_of(first)["timing"]["recorded_at"]
    assert (second.kind, second.replaces) == ("corrected", first)
    correction.refresh_from_db()
    assert correction.state == Treatment.State.CORRECTED


def test_a_correction_cannot_move_when_the_treatment_was_recorded(first, done, member):
    correction = start_correction(done, member.user, "wrong start")
    timing = {**correction.document["timing"], "recorded_at": "2019-01-01T09:00:00-08:00"}
    with pytest.raises(WrittenFromRowsError):
        edit_draft(correction, [Edit("e", "timing", timing, correction.revision)], member.user)
    correction.document["timing"] = timing
    correction.save()
    second = selectors.document_of(sign_now(correction, member))
    assert second["timing"]["recorded_at"] == selectors.document_of(first)["timing"]["recorded_at"]


def test_a_correction_is_not_signed_before_what_it_corrects(first, done, member):
    correction = start_correction(done, member.user, "wrong start")
    signer = Signer(member.user, first.received_at - timedelta(minutes=10))
    document = document_to_sign(correction, signer)
    with pytest.raises(ImplausibleTimeError):
        sign(correction, document, Attachments(), signer, correction.revision)


def test_the_register_shows_what_is_signed_while_a_correction_is_written(first, done, member):
    correction = start_correction(done, member.user, "other surface")
    path = f"surfaces[{done.document['surfaces'][0]['id']}].treated_area"
    edit_draft(correction, [Edit("e", path, "10 ft**2", correction.revision)], member.user)
    shown = Treatment.objects.for_firm(done.firm).get()
    assert shown.treated_area > 100
    sign_now(correction, member)
    shown.refresh_from_db()
    assert shown.treated_area < 1


def test_a_correction_keeps_the_customer_as_it_was_at_the_first_signing(first, done, member):
    done.site.customer.name = "Somebody Else"
    done.site.customer.save()
    correction = start_correction(done, member.user, "typing error")
    assert selectors.document_of(sign_now(correction, member))["customer"]["name"] == "A. Marlowe"


def test_a_second_correction_of_a_version_is_refused_with_the_first(first, done, member, colleague):
    correction = start_correction(done, member.user, "one")
    with pytest.raises(AlreadyCorrectedError) as open_still:
        start_correction(done, colleague.user, "two")
    assert open_still.value.first is None
    second = sign_now(correction, member)
    with pytest.raises(AlreadyCorrectedError) as refused:
        start_correction(done, colleague.user, "two", version=1)
    assert refused.value.first == second


def test_a_draft_is_edited_and_not_corrected(done, member):
    with pytest.raises(NotSignedError):
        start_correction(done, member.user, "why not")


def test_a_correction_that_is_given_up_leaves_the_record_as_it_was(first, done, member):
    correction = start_correction(done, member.user, "perhaps")
    edit_draft(correction, [Edit("e", "notes", "x", correction.revision)], member.user)
    dropped = drop_correction(correction, member.user)
    assert dropped.state == Treatment.State.SIGNED
    assert dropped.document == selectors.document_of(first)


def test_a_follow_up_adds_to_the_record_and_is_kept_once(first, done, member):
    def send() -> SignedFollowUp:
        signer = Signer(member.user)
        return sign_follow_up(done, signer, kind="copy-given", at=AT, detail="by e-mail")

    assert send().pk == send().pk
    file = record_files.record_file(first)
    assert [each["kind"] for each in file["follow_ups"]] == ["copy-given"]
    assert file["follow_ups"][0]["follows"] == {"id": str(done.pk), "digest": first.digest}


def test_a_follow_up_of_a_kind_not_in_the_list_is_refused(first, done, member):
    with pytest.raises(DocumentFaults, match="kind"):
        sign_follow_up(done, Signer(member.user), kind="party", at=AT)
    assert SignedFollowUp.objects.for_firm(done.firm).count() == 0


@pytest.mark.parametrize("at", ["2026-09-14T09:11:59-07:00", None])
def test_a_follow_up_of_before_the_work_or_of_what_is_still_to_come_is_refused(first, done, member, at):
    when = datetime.fromisoformat(at) if at else clock.now() + timedelta(minutes=6)
    with pytest.raises(FollowUpTimeError):
        sign_follow_up(done, Signer(member.user), kind="note", at=when, detail="x")
    assert SignedFollowUp.objects.for_firm(done.firm).count() == 0


def test_a_follow_up_of_the_moment_at_which_the_work_began_is_taken(first, done, member):
    began = datetime.fromisoformat("2026-09-14T09:12:00-07:00")
    assert sign_follow_up(done, Signer(member.user), kind="note", at=began, detail="x").at == began


def test_a_draft_has_no_follow_ups(done, member):
    with pytest.raises(NotSignedError):
        sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="x")


def test_a_correction_keeps_who_recorded_it_first_and_its_signature_says_who_corrected(
    first, done, member, colleague
):
    correction = start_correction(done, colleague.user, "wind was read at noon")
    correction.document["record"]["entered_by"] = "Somebody Else"
    correction.save()
    second = sign_now(correction, colleague)
    assert selectors.document_of(second)["record"]["entered_by"] == member.user.name
    assert second.by == colleague.user
