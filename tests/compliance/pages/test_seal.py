"""Where a phone sends what was signed on it, and where a manager sees it."""

import json
from dataclasses import asdict, replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
import time_machine
from django.urls import reverse

from compliance.services.sealed import receive
from records.document.edits import Edit
from records.models import DeviceKey, Membership, Seal, SignedRecord
from records.services.device_keys import revoke
from records.services.drafts import edit_draft
from records.services.sheets import sheet_of
from tests.compliance.pages.test_versions import corrected, sign
from tests.device import Device
from tests.factories import PASSWORD

ON_THE_ROOF = datetime.fromisoformat("2026-09-14T10:05:00-07:00")
BACK_IN_THE_YARD = datetime.fromisoformat("2026-09-14T17:30:00-07:00")


@pytest.fixture(autouse=True)
def in_the_yard():
    with time_machine.travel(BACK_IN_THE_YARD, tick=False) as clock:
        yield clock


@pytest.fixture
def sent(done, member, firm, in_the_yard):
    """By a device that was set up, and kept the treatment, in the morning."""
    device = Device()
    in_the_yard.shift(-timedelta(hours=8))
    device.register(member.user, firm)
    sheet = sheet_of(done, member.user)
    in_the_yard.shift(timedelta(hours=8))
    return device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, sent_at=BACK_IN_THE_YARD)


def post(client, treatment, body):
    address = reverse("seal", kwargs={"uuid": treatment.pk})
    return client.post(address, body, content_type="application/json")


def test_a_sealed_record_is_answered_with_where_it_is(client, member, done, sent):
    client.force_login(member.user)
    answer = post(client, done, json.dumps(asdict(sent)))
    assert answer.json() == {"signed": reverse("signed", kwargs={"uuid": done.pk}), "whyNot": []}
    page = client.get(reverse("treatment", kwargs={"uuid": done.pk})).text
    assert "Signed without a connection by R. Osei on Yard phone" in page


def test_one_that_was_not_taken_says_why_on_the_draft_and_to_the_manager(client, member, colleague, done, sent):
    edit_draft(done, [Edit("e", "notes", "Gate left open.", done.revision)], colleague.user)
    client.force_login(member.user)
    answer = post(client, done, json.dumps(asdict(sent)))
    assert answer.json()["signed"] is None
    assert "Notes: what stands here is not what was signed on the device" in answer.json()["whyNot"][0]
    assert "It was not taken as signed" in client.get(reverse("treatment", kwargs={"uuid": done.pk})).text
    assert "look at these" not in client.get(reverse("home")).text
    client.force_login(colleague.user)
    assert "Signed on a phone: look at these" in client.get(reverse("home")).text


def test_one_that_was_not_taken_stands_on_its_signers_today_until_the_record_is_signed(
    client, member, colleague, done, sent
):
    edit_draft(done, [Edit("e", "notes", "Gate left open.", done.revision)], colleague.user)
    receive(done, member.user, sent)
    client.force_login(member.user)
    for _ in range(2):
        today = client.get(reverse("home")).text
        assert "Signed on your phone, and not taken yet" in today
        assert f"{done.number} {done.site_name}" in today
    client.force_login(colleague.user)
    assert "on your phone" not in client.get(reverse("home")).text
    done.refresh_from_db()
    sign(done, member.user)
    client.force_login(member.user)
    assert "on your phone" not in client.get(reverse("home")).text


def after(client, done) -> str:
    return client.get(reverse("treatment", kwargs={"uuid": done.pk})).text


def test_each_member_that_differs_stands_in_words_with_both_values_until_they_agree(
    client, member, colleague, done, sent
):
    edits = {"notes": "Gate left open.", "timing.finished_at": "2026-09-14T09:41:00-07:00"}
    others = [Edit(f"other-{path}", path, value, done.revision) for path, value in edits.items()]
    edit_draft(done, others, colleague.user)
    receive(done, member.user, sent)
    client.force_login(colleague.user)
    for page in (after(client, done), client.get(reverse("home")).text):
        assert "As it was signed on the device" in page and "what stands here is not" not in page
        assert "<strong>Notes</strong>" in page and "<strong>Gate left open.</strong>" in page
        assert "<strong>Spraying finished</strong>" in page
    done.refresh_from_db()
    edit_draft(done, [Edit("back", "notes", None, done.revision)], colleague.user)
    assert "<strong>Notes</strong>" not in after(client, done)
    done.refresh_from_db()
    was = json.loads(sent.document)["timing"]["finished_at"]
    edit_draft(done, [Edit("too", "timing.finished_at", was, done.revision)], colleague.user)
    assert "What differed is the same by now. Check and sign." in after(client, done)


def test_a_record_names_the_version_that_a_seal_is_of(client, member, colleague, done, sent):
    receive(done, member.user, sent)
    done.refresh_from_db()
    corrected(done, colleague.user, "a slip of the pen", notes="Gate left open.")
    client.force_login(colleague.user)
    assert "This is the signature of version 1." in after(client, done)


def test_one_that_was_not_taken_stands_under_the_history_of_the_record_that_was_signed_since(
    client, member, colleague, done, sent
):
    edit_draft(done, [Edit("e", "notes", "Gate left open.", done.revision)], colleague.user)
    receive(done, member.user, sent)
    done.refresh_from_db()
    sign(done, colleague.user)
    client.force_login(colleague.user)
    above, history = after(client, done).split(">History</h2>")
    assert "Signed without a connection by R. Osei" not in above
    assert "Signed without a connection by R. Osei" in history and "It was not taken as signed" in history
    assert "Compare" not in history and "<strong>Gate left open.</strong>" in history


def test_a_manager_who_has_looked_at_their_own_still_sees_that_it_is_not_settled(
    client, member, colleague, done, sent
):
    edit_draft(done, [Edit("e", "notes", "Gate left open.", done.revision)], colleague.user)
    seal = receive(done, member.user, sent)
    member.role = Membership.Role.MANAGER
    member.save()
    client.force_login(member.user)
    assert "on your phone" not in client.get(reverse("home")).text
    client.post(reverse("look_at_seal", kwargs={"uuid": seal.pk}))
    assert "Signed on your phone, and not taken yet" in client.get(reverse("home")).text


@pytest.mark.parametrize(
    "body",
    [
        b"", b"[]", b"{}", b"\xff", b'{"key": 1}', b"[" * 5000,
        json.dumps({"key": "k", "document": "{}", "answers": [{"rule": 1}], "claimed_at": "", "device_at": "",
                    "sent_at": "", "value": "", "proof": ""}).encode(),
    ],
)  # fmt: skip
def test_what_is_no_seal_is_refused_in_words(client, member, done, body):
    client.force_login(member.user)
    answer = post(client, done, body)
    assert answer.status_code == 422
    assert answer.json()["fault"] == "This signature does not hold. Sign again when there is a connection."
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_sealed_document_that_contradicts_itself_is_kept_and_the_fault_said(
    client, member, firm, done, in_the_yard
):
    client.force_login(member.user)
    device = Device()
    device.register(member.user, firm)
    sheet = sheet_of(done, member.user)
    sheet["document"]["timing"]["finished_at"] = "2026-09-14T08:00:00-07:00"
    sent = device.sealed(done, member.user, BACK_IN_THE_YARD, sheet=sheet)
    answer = post(client, done, json.dumps(asdict(sent))).json()
    assert answer["signed"] is None
    assert "timing.finished_at" in answer["whyNot"][0]
    assert bytes(Seal.objects.for_firm(firm).get().document) == sent.document.encode()


def test_times_and_keys_of_another_shape_are_refused_too(client, member, done, sent):
    client.force_login(member.user)
    for changed in ({"claimed_at": "soon"}, {"sent_at": ""}, {"key": "none"}, {"document": "x" * 1_200_000}):
        assert post(client, done, json.dumps(asdict(replace(sent, **changed)))).status_code == 422


def test_another_firms_treatment_is_not_there(client, stranger, done, sent):
    client.force_login(stranger.user)
    assert post(client, done, json.dumps(asdict(sent))).status_code == 404
    assert client.get(reverse("sheet", kwargs={"uuid": done.pk})).status_code == 404


def test_the_sheet_says_who_signs_and_for_which_firm(client, member, done):
    client.force_login(member.user)
    sheet = client.get(reverse("sheet", kwargs={"uuid": done.pk})).json()
    assert (sheet["signer"], sheet["firm"]) == ("R. Osei", str(done.firm.pk))
    assert sheet["document"] == sheet_of(done, member.user)["document"]


def test_a_device_is_set_up_with_the_password_and_ended_by_its_person_alone(client, member, stranger):
    client.force_login(member.user)
    client.get(reverse("devices"))
    challenge = client.session["device-challenge"]
    device = Device()
    told = {"device": "Yard phone", "public": device.public, "proof": device.signature(challenge.encode())}
    wrong = client.post(reverse("devices"), told | {"password": "not this one"})
    assert (wrong.status_code, wrong.json()["control"]) == (422, "password")
    assert client.post(reverse("devices"), told | {"password": PASSWORD, "device": " "}).status_code == 422
    assert client.post(reverse("devices"), told | {"password": PASSWORD}).status_code == 201
    assert client.post(reverse("devices"), told | {"password": PASSWORD}).status_code == 422
    key = DeviceKey.objects.for_firm(member.firm).get()
    end = reverse("end_device", kwargs={"uuid": key.pk})
    client.force_login(stranger.user)
    assert client.post(end).status_code == 404
    client.force_login(member.user)
    client.post(end)
    assert key.revocation.by == member.user


def test_an_old_challenge_proves_nothing(client, member):
    client.force_login(member.user)
    device = Device()
    told = {"device": "Phone", "public": device.public, "proof": device.signature(b""), "password": PASSWORD}
    client.get(reverse("devices"))
    assert client.post(reverse("devices"), told).status_code == 422
    assert not DeviceKey.objects.for_firm(member.firm).exists()


def test_who_sets_up_and_ends_devices_again_and_again_is_told_to_wait(client, member):
    for _ in range(20):
        revoke(Device().register(member.user, member.firm), member.user)
    client.force_login(member.user)
    client.get(reverse("devices"))
    device, challenge = Device(), client.session["device-challenge"]
    proof = device.signature(challenge.encode())
    told = {"device": "Phone", "public": device.public, "proof": proof, "password": PASSWORD}
    answer = client.post(reverse("devices"), told)
    assert answer.status_code == 422
    assert answer.json()["fault"] == "You have set up too many devices today. Try again tomorrow."


def test_what_the_devices_own_clock_said_stands_beside_the_claim(
    client, colleague, member, firm, done, in_the_yard
):
    device = Device()
    in_the_yard.shift(-timedelta(hours=8))
    device.register(member.user, firm)
    sheet = sheet_of(done, member.user)
    in_the_yard.shift(timedelta(hours=8))
    was = ON_THE_ROOF - timedelta(hours=3)
    clocks = {"sent_at": BACK_IN_THE_YARD, "device_at": was}
    receive(done, member.user, device.sealed(done, member.user, ON_THE_ROOF, sheet=sheet, **clocks))
    client.force_login(colleague.user)
    said = client.get(reverse("treatment", kwargs={"uuid": done.pk})).text
    assert "Signed without a connection by R. Osei on Yard phone, Sept. 14, 2026, 10:05;" in said
    assert "The device's own clock said Sept. 14, 2026, 07:05." in said


YEAR_ONE, LAST_MOMENT = datetime(1, 1, 1, tzinfo=UTC), datetime(9999, 12, 31, 23, 59, 59, tzinfo=UTC)


@pytest.mark.parametrize(
    "clocks", [{"at": YEAR_ONE}, {"at": LAST_MOMENT}, {"device_at": YEAR_ONE}, {"device_at": LAST_MOMENT},
               {"sent_at": YEAR_ONE}, {"sent_at": LAST_MOMENT}],
)  # fmt: skip
def test_a_seal_by_a_clock_of_an_impossible_year_is_refused_in_words_and_not_kept(
    client, member, done, firm, in_the_yard, clocks
):
    device = Device()
    device.register(member.user, firm)
    body = device.sealed(done, member.user, **{"at": BACK_IN_THE_YARD, "sent_at": BACK_IN_THE_YARD, **clocks})
    client.force_login(member.user)
    answer = post(client, done, json.dumps(asdict(body)))
    assert answer.status_code == 422
    assert answer.json()["fault"] == "The clock of this device is far off. Set it, then sign again."
    assert not Seal.objects.for_firm(firm).exists()


def test_pages_show_a_seal_of_an_impossible_year_that_is_kept_already(
    client, member, colleague, done, firm, sent
):
    edit_draft(done, [Edit("e", "notes", "Gate left open.", done.revision)], colleague.user)
    kept = receive(done, member.user, sent)
    an_hour_behind = BACK_IN_THE_YARD - timedelta(hours=1)
    clocks = {"claimed_at": YEAR_ONE, "device_at": LAST_MOMENT, "sent_at": an_hour_behind}
    as_kept = {field.attname: getattr(kept, field.attname) for field in Seal._meta.concrete_fields}
    old = Seal(**as_kept | clocks | {"uuid": uuid4(), "digest": "sha256-" + "0" * 64})
    old.save(force_insert=True)
    client.force_login(colleague.user)
    for page in (reverse("home"), reverse("treatment", kwargs={"uuid": done.pk})):
        answer = client.get(page)
        assert answer.status_code == 200
        assert "Jan. 1, 0001, 00:00" in answer.text and "Dec. 31, 9999" in answer.text
    edit_draft(done, [Edit("e2", "notes", None, done.revision)], member.user)
    assert client.get(reverse("sign", kwargs={"uuid": done.pk})).status_code in (200, 302)


def test_a_device_s_first_day_is_one_of_the_firm_s_clock(client, member, firm, in_the_yard):
    Device().register(member.user, firm)
    client.force_login(member.user)
    assert "since Sept. 14, 2026" in client.get(reverse("devices")).text
