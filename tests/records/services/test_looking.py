"""What was signed on a phone and is marked stays on Today until a manager has looked at it."""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from records.models import DeviceKey, LaterFit, LookedAt, Seal, SignedRecord, SigningKey
from records.seals import to_look_at
from records.services.looking import look_at

AT = datetime(2026, 9, 14, 17, 0, tzinfo=UTC)
MARK = {"en": "The key of this device has been revoked since.", "es": "La clave se revocó después."}


@pytest.fixture
def marked(draft, member) -> Seal:
    """Of a signed record, and marked."""
    draft.state = "signed"
    draft.save()
    return seal_of(draft, member, marks=[MARK], signed_record=record_of(draft, member))


def seal_of(treatment, member, **more) -> Seal:
    key = DeviceKey.objects.create(
        firm=treatment.firm,
        by=member.user,
        device="Phone",
        public=b"",
        digest=f"d{DeviceKey.objects.for_firm(treatment.firm).count()}",
    )
    return Seal.objects.create(
        firm=treatment.firm, treatment=treatment, key=key, by=member.user, document=b"{}", digest="", value="",
        claimed_at=AT, device_at=AT, sent_at=AT, received_at=AT, asks=True, **more,
    )  # fmt: skip


def record_of(treatment, member) -> SignedRecord:
    key = SigningKey.objects.create(firm=treatment.firm, digest="sha256:k", public=b"")
    return SignedRecord.objects.create(
        firm=treatment.firm, treatment=treatment, version=1, kind="signed", record=b"{}", digest="r",
        section_lines=b"", document_digest="", revision=0, key=key, by=member.user,
    )  # fmt: skip


def asked(firm) -> list[Seal]:
    return list(to_look_at(firm))


def test_a_mark_stays_for_as_long_as_nobody_has_looked_at_it(firm, marked, colleague):
    with time_machine.travel(AT + timedelta(days=400), tick=False):
        assert asked(firm) == [marked]
        look_at(marked, colleague.user)
        assert asked(firm) == []


def test_who_looked_and_when_is_kept_once(firm, marked, colleague):
    with time_machine.travel(AT + timedelta(days=1), tick=False):
        look_at(marked, colleague.user)
        look_at(marked, colleague.user)
    look = LookedAt.objects.for_firm(firm).get()
    assert (look.seal, look.by, look.at) == (marked, colleague.user, AT + timedelta(days=1))


def test_the_crew_ticks_nothing_off(firm, marked, member):
    with pytest.raises(PermissionDenied):
        look_at(marked, member.user)
    assert asked(firm) == [marked]


def test_what_waits_with_an_open_draft_asks_and_leaves_when_the_draft_is_signed(firm, draft, member):
    waits = seal_of(draft, member)
    assert asked(firm) == [waits]
    draft.state = "signed"
    draft.save()
    assert asked(firm) == []


def test_what_was_looked_at_and_then_fitted_with_a_mark_asks_again(firm, draft, member, colleague):
    waits = seal_of(draft, member)
    look_at(waits, colleague.user)
    assert asked(firm) == []
    record = record_of(draft, member)
    LaterFit.objects.create(firm=firm, seal=waits, signed_record=record, marks=[MARK])
    assert asked(firm) == [waits]
    look_at(Seal.objects.for_firm(firm).get(), colleague.user)
    assert asked(firm) == []


def test_a_manager_ticks_it_off_on_today_and_sees_on_the_record_who_did(client, firm, marked, colleague):
    client.force_login(colleague.user)
    home = client.get(reverse("home")).content.decode()
    assert "I have looked at it" in home
    answer = client.post(reverse("look_at_seal", kwargs={"uuid": marked.pk}))
    assert answer["Location"] == reverse("home")
    assert "I have looked at it" not in client.get(reverse("home")).content.decode()
    assert LookedAt.objects.for_firm(firm).get().by == colleague.user


def test_another_firms_seal_is_not_there_and_the_crew_is_refused(client, marked, stranger, member):
    address = reverse("look_at_seal", kwargs={"uuid": marked.pk})
    client.force_login(stranger.user)
    assert client.post(address).status_code == 404
    client.force_login(member.user)
    assert client.post(address).status_code == 403
