"""A seal that did not fit the draft signs it once the person's own entries have made it what was sealed."""

from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.services.sealed import receive
from compliance.services.sealed_later import fit_later
from records import selectors
from records.document.edits import Edit
from records.models import LaterFit, Seal, SignedRecord, Treatment, User
from records.services.device_keys import revoke
from records.services.drafts import edit_draft
from records.services.sheets import sheet_of
from tests.compliance.services.sealing import BACK_IN_THE_YARD, ON_THE_ROOF


@pytest.fixture
def refused(device, done, member, in_the_yard) -> Seal:
    """The phone sealed a note of its own that has not come in yet."""
    in_the_yard.shift(-timedelta(hours=8))
    sheet = sheet_of(done, member.user)
    in_the_yard.shift(timedelta(hours=8))
    sheet["document"]["notes"] = "Gate left open."
    sent = device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, sent_at=BACK_IN_THE_YARD)
    seal = receive(done, member.user, sent)
    assert seal.record is None
    return seal


def note(treatment: Treatment, user: User, words: str) -> None:
    treatment.refresh_from_db()
    edit_draft(treatment, [Edit(words, "notes", words, treatment.revision)], user)


def test_once_the_entry_is_there_the_record_is_the_sealed_bytes(done, member, refused):
    note(done, member.user, "Gate left open.")
    assert fit_later(done, member.user) == refused
    (record,) = SignedRecord.objects.for_firm(done.firm)
    assert record.document_digest == refused.digest
    assert selectors.document_of(record)["timing"]["recorded_at"] == ON_THE_ROOF.isoformat()
    assert Seal.objects.for_firm(done.firm).get().record == record


def test_it_is_signed_once_however_often_it_is_asked(done, member, refused):
    note(done, member.user, "Gate left open.")
    assert fit_later(done, member.user)
    assert fit_later(done, member.user) is None
    assert SignedRecord.objects.for_firm(done.firm).count() == LaterFit.objects.for_firm(done.firm).count() == 1


def test_other_entries_leave_it_where_it_is(done, member, refused):
    note(done, member.user, "Gate closed.")
    assert fit_later(done, member.user) is None
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_colleague_makes_no_record_in_the_persons_name(done, member, colleague, refused):
    note(done, colleague.user, "Gate left open.")
    assert fit_later(done, colleague.user) is None
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_key_that_was_revoked_since_signs_what_it_sealed_before_and_is_marked(done, member, device, refused):
    revoke(device.key, member.user)
    note(done, member.user, "Gate left open.")
    assert fit_later(done, member.user)
    later = LaterFit.objects.for_firm(done.firm).get()
    assert "revoked since" in " ".join(each["en"] for each in later.marks)


def test_who_may_sign_no_more_signs_nothing(done, member, refused):
    note(done, member.user, "Gate left open.")
    member.role = "office"
    member.save()
    assert fit_later(done, User.objects.get(pk=member.user.pk)) is None


def test_customer_and_site_stand_as_the_phone_had_them(done, member, refused):
    customer = done.site.customer
    customer.name = "B. Marlowe"
    customer.save()
    note(done, member.user, "Gate left open.")
    assert fit_later(done, member.user)
    (record,) = SignedRecord.objects.for_firm(done.firm)
    assert selectors.document_of(record)["customer"]["name"] == "A. Marlowe"


def test_an_entry_over_the_api_lets_the_seal_sign(client, done, member, refused):
    done.refresh_from_db()
    client.force_login(member.user)
    edit = {"id": "e", "path": "notes", "value": "Gate left open.", "base_revision": done.revision}
    address = reverse("api_edits", kwargs={"uuid": done.pk})
    answer = client.post(address, {"edits": [edit]}, content_type="application/json")
    (record,) = SignedRecord.objects.for_firm(done.firm)
    assert (answer.status_code, answer.json()["sealed"]["digest"]) == (200, record.digest)
