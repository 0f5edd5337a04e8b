"""Photos over HTTP: what a script of ours sends, what a form sends, and who sees which copy."""

import json
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.models import Photo, Treatment
from records.photo_faults import PhotoBusyError
from records.selectors import follow_ups_of
from records.services import photo_judging
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from tests.factories import PASSWORD
from tests.pictures import bomb, digest, jpeg, png
from tests.records.services.test_photos import PICTURE, STEP, evidence, signed

HALF = len(PICTURE) // 2


@pytest.fixture
def phone(client, member):
    client.force_login(member.user)
    return client


def address(name: str, treatment: Treatment, data: bytes = PICTURE) -> str:
    photos = reverse("photos", kwargs={"uuid": treatment.pk})
    if name == "photos":
        return photos
    return reverse(name, kwargs={"uuid": treatment.pk, "sha256": digest(data)})


def announce(client, treatment: Treatment, data: bytes = PICTURE, **more):
    user = str(client.session["_auth_user_id"])
    said = {"sha256": digest(data), "bytes": len(data), "step": STEP, "person": user, **more}
    return client.post(address("photos", treatment), said, "application/json")


def send_piece(client, treatment: Treatment, offset: int, piece: bytes, data: bytes = PICTURE):
    where = f"{address('photo', treatment, data)}?offset={offset}"
    return client.patch(where, piece, "application/octet-stream")


def send(client, treatment: Treatment, data: bytes = PICTURE):
    announce(client, treatment, data)
    send_piece(client, treatment, 0, data, data)
    return announce(client, treatment, data)


def test_a_photo_is_announced_sent_in_pieces_and_then_named(phone, ticked):
    assert announce(phone, ticked).json() == {"offset": 0, "taken": False}
    assert send_piece(phone, ticked, 0, PICTURE[:HALF]).json() == {"offset": HALF, "taken": False}
    assert announce(phone, ticked).json() == {"offset": HALF, "taken": False}
    assert send_piece(phone, ticked, HALF, PICTURE[HALF:]).json()["taken"] is True
    assert evidence(ticked) == []
    assert announce(phone, ticked).json() == {"offset": len(PICTURE), "taken": True}
    assert [each["sha256"] for each in evidence(ticked)] == [digest(PICTURE)]


def test_a_piece_that_comes_twice_is_told_where_to_go_on(phone, ticked):
    announce(phone, ticked)
    send_piece(phone, ticked, 0, PICTURE[:HALF])
    again = send_piece(phone, ticked, 0, PICTURE[:HALF])
    assert (again.status_code, again.json()) == (409, {"offset": HALF})


@pytest.mark.parametrize("offset", ["", "-1", "x", "²", "9" * 20])
def test_an_offset_that_is_none_is_refused(phone, ticked, offset):
    announce(phone, ticked)
    assert send_piece(phone, ticked, offset, PICTURE).status_code == 400


def test_a_piece_larger_than_a_piece_may_be_is_refused(phone, ticked):
    data = jpeg() + bytes(1_100_000)
    announce(phone, ticked, data)
    assert send_piece(phone, ticked, 0, data, data).status_code == 400


@pytest.mark.parametrize(
    "wrong",
    [{"sha256": "AB" * 32}, {"sha256": "../x"}, {"bytes": "9"}, {"bytes": -1}, {"bytes": True}, {"step": None}],
)
def test_an_announcement_that_is_none_is_refused(phone, ticked, wrong):
    assert announce(phone, ticked, **wrong).status_code == 400
    assert not Photo.objects.for_firm(ticked.firm).exists()


@pytest.mark.parametrize(
    "body", ["", "{", "[]", "[" * 9, '{"bytes": 1, "bytes": 1}', json.dumps({"step": "x" * 5000})]
)
def test_what_is_no_announcement_at_all_is_refused(phone, ticked, body):
    assert phone.post(address("photos", ticked), body, "application/json").status_code == 400


def test_what_is_refused_is_said_in_words_of_the_reader(phone, ticked):
    announce(phone, ticked, bomb())
    answer = send_piece(phone, ticked, 0, bomb(), bomb())
    assert answer.status_code == 422
    assert "60000 by 60000 pixels" in answer.json()["words"]
    phone.cookies["django_language"] = "es"
    assert "25 MB" in announce(phone, ticked, bytes=26_000_000).json()["words"]


def test_a_photo_of_a_step_that_is_not_ticked_is_kept_and_told_so(phone, draft):
    answer = send(phone, draft)
    assert (answer.status_code, answer.json()["why"]) == (409, "no_step")
    item = {"id": "0a4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11", "step": STEP}
    edit_draft(
        draft, [Edit("late", f"protection[{item['id']}]", item, 0)], Photo.objects.for_firm(draft.firm).get().by
    )
    assert announce(phone, draft).json()["taken"] is True
    assert len(evidence(draft)) == 1


def test_the_device_says_when_it_was_taken_and_never_that_it_is_still_to_come(phone, ticked):
    now = datetime.now(UTC)
    for data, moment in ((jpeg(), now - timedelta(hours=2)), (png(), now + timedelta(hours=2))):
        announce(phone, ticked, data, taken_at=moment.isoformat())
        send(phone, ticked, data)
    first, second = evidence(ticked)
    assert datetime.fromisoformat(first["taken_at"]) == (now - timedelta(hours=2)).replace(microsecond=0)
    assert "taken_at" not in second


@pytest.mark.parametrize(
    "moment", ["0001-01-01T00:00:00Z", "0001-01-01T00:00:00-14:00", "1899-12-31T00:00:00Z"]
)
def test_a_photo_from_before_all_cameras_is_refused_in_words(phone, ticked, moment):
    answer = announce(phone, ticked, taken_at=moment)
    assert answer.status_code == 422
    assert f"taken in the year {int(moment[:4])}" in answer.json()["words"]
    assert not Photo.objects.for_firm(ticked.firm).exists()


def test_a_photo_that_is_being_looked_at_is_to_come_later(phone, ticked, monkeypatch):
    def busy(*_):
        raise PhotoBusyError

    announce(phone, ticked)
    with monkeypatch.context() as patched:
        patched.setattr(photo_judging, "copy_of", busy)
        for answer in (send_piece(phone, ticked, 0, PICTURE), announce(phone, ticked)):
            assert (answer.status_code, answer.json()["why"]) == (503, "busy")
        assert "Another photo is being looked at" in by_form(phone, ticked, PICTURE).text
    assert announce(phone, ticked).json()["taken"] is True


def test_what_another_person_put_on_the_phone_is_not_taken(phone, ticked, colleague):
    assert announce(phone, ticked, person=str(colleague.user.pk)).status_code == 401
    form = {"person": str(colleague.user.pk), "step": STEP, f"photo:{STEP}": upload(PICTURE)}
    assert phone.post(address("photos", ticked), form).status_code == 403


def test_after_signing_out_a_script_is_told_so(client, ticked):
    for answer in (
        client.post(address("photos", ticked), {}, "application/json", headers={"HX-Request": "true"}),
        client.patch(address("photo", ticked), b"", headers={"HX-Request": "true"}),
    ):
        assert answer.status_code == 401


def test_a_signed_record_takes_no_photo(phone, ticked, member):
    announce(phone, ticked)
    signed(ticked, member)
    for answer in (announce(phone, ticked), send_piece(phone, ticked, 0, PICTURE)):
        assert (answer.status_code, answer.json()["why"]) == (409, "signed")
    assert "is signed already" in by_form(phone, ticked, PICTURE).text
    assert evidence(ticked) == []


def upload(data: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile("IMG_0001.JPG", data, "image/jpeg")


def by_form(client, treatment: Treatment, data: bytes | None):
    form = {"step": STEP, "section": "protect", f"photo:{STEP}": upload(data) if data else ""}
    return client.post(address("photos", treatment), form, follow=True)


def test_a_form_sends_a_photo_at_once(phone, ticked):
    page = by_form(phone, ticked, PICTURE)
    assert page.redirect_chain[-1][0].endswith("/form/protect/#photos-of-steps")
    assert evidence(ticked)[0] == {
        "sha256": digest(PICTURE),
        "media_type": "image/jpeg",
        "bytes": len(PICTURE),
    }


@pytest.mark.parametrize(
    ("data", "words"),
    [(None, "Choose a photo first."), (b"%PDF-1.7", "JPEG or PNG"), (bomb(), "60000 by 60000")],
)
def test_what_is_wrong_with_a_forms_photo_is_said_on_the_page(phone, ticked, data, words):
    assert words in by_form(phone, ticked, data).text
    assert evidence(ticked) == []


def shown(answer) -> Image.Image:
    return Image.open(BytesIO(b"".join(answer.streaming_content)))


def test_a_page_shows_the_viewing_copy_and_only_a_manager_downloads_the_original(phone, ticked, colleague):
    data = jpeg(2000, 1000)
    send(phone, ticked, data)
    for query, size in (("", (1600, 800)), ("?size=small", (320, 160))):
        copy = shown(phone.get(address("photo", ticked, data) + query))
        assert (copy.size, dict(copy.getexif())) == (size, {})
    assert phone.get(address("photo_original", ticked, data)).status_code == 403
    phone.force_login(colleague.user)
    answer = phone.get(address("photo_original", ticked, data))
    assert b"".join(answer.streaming_content) == data
    assert f'filename="{ticked.number}-{digest(data)[:12]}.jpeg"' in answer["Content-Disposition"]


def test_half_a_photo_is_shown_to_nobody(phone, ticked):
    announce(phone, ticked)
    send_piece(phone, ticked, 0, PICTURE[:HALF])
    assert phone.get(address("photo", ticked)).status_code == 404


def test_another_firm_finds_no_photo(client, phone, ticked, stranger):
    send(phone, ticked)
    client.force_login(stranger.user)
    assert {client.get(address(name, ticked)).status_code for name in ("photo", "photo_original")} == {404}
    assert announce(client, ticked).status_code == 404
    assert send_piece(client, ticked, 0, PICTURE).status_code == 404
    assert client.post(address("remove_photo", ticked), {"step": STEP}).status_code == 404
    assert len(evidence(ticked)) == 1


def test_a_photo_of_one_treatment_is_not_found_in_another(phone, ticked, plan, member):
    send(phone, ticked)
    other = plan_treatment(plan.site.firm, member.user, plan)
    assert phone.get(address("photo", other)).status_code == 404


def test_a_photo_is_removed_from_its_step(phone, ticked):
    send(phone, ticked)
    phone.post(address("remove_photo", ticked), {"step": STEP, "section": "protect"})
    assert evidence(ticked) == []
    assert phone.get(address("photo", ticked)).status_code == 404


def test_an_inspector_sees_the_photos_that_a_signed_record_names_and_no_others(phone, ticked, member):
    send(phone, ticked)
    announce(phone, ticked, png())
    send_piece(phone, ticked, 0, png(), png())
    signed(ticked, member)
    member.role = "inspector"
    member.save()
    assert shown(phone.get(address("photo", ticked))).size == (64, 48)
    assert phone.get(address("photo", ticked, png())).status_code == 404


def follow_up(client, treatment: Treatment, *photos: bytes, **more: str):
    form = {"kind": "inspection", "day": "2026-09-20", "time": "10:00", "password": PASSWORD, **more}
    where = reverse("follow_up", kwargs={"uuid": treatment.pk})
    return client.post(where, {**form, "photos": [upload(data) for data in photos]}, follow=True)


def test_a_follow_up_names_its_photos_and_the_records_page_shows_them(phone, ticked, member):
    treatment = signed(ticked, member)
    page = follow_up(phone, treatment, PICTURE, png())
    (row,) = follow_ups_of(treatment)
    assert [each["sha256"] for each in row.follow_up["evidence"]] == [digest(PICTURE), digest(png())]
    assert address("photo", treatment, png()) in page.text


def test_a_follow_up_with_what_is_no_photo_is_not_signed_and_says_so(phone, ticked, member):
    treatment = signed(ticked, member)
    assert "JPEG or PNG file is expected" in follow_up(phone, treatment, b"%PDF-1.7").text
    assert "not your password" in follow_up(phone, treatment, PICTURE, password="another").text
    assert not follow_ups_of(treatment).exists()


def test_the_form_of_a_follow_up_opens_without_faults(phone, ticked, member):
    page = phone.get(reverse("follow_up", kwargs={"uuid": signed(ticked, member).pk})).text
    assert 'name="photos"' in page
    assert "There is a problem" not in page


def test_a_follow_up_needs_no_photo(phone, ticked, member):
    treatment = signed(ticked, member)
    follow_up(phone, treatment)
    assert "evidence" not in follow_ups_of(treatment).get().follow_up


def record_page(client, treatment: Treatment) -> str:
    return client.get(reverse("treatment", kwargs={"uuid": treatment.pk})).text


def test_a_signed_records_page_shows_each_photo_that_it_names_with_its_digest(phone, ticked, member):
    send(phone, ticked)
    signed(ticked, member)
    page = record_page(phone, ticked)
    assert address("photo", ticked) in page
    assert digest(PICTURE) in page
    assert "Photo: storm drains covered 1" in page
    assert "Download the original" not in page


def test_a_manager_is_offered_the_original(phone, ticked, member, colleague):
    send(phone, ticked)
    signed(ticked, member)
    phone.force_login(colleague.user)
    assert address("photo_original", ticked) in record_page(phone, ticked)


@pytest.mark.parametrize("consents", [False, True])
def test_what_a_picture_says_is_shown_only_where_the_firm_consents(phone, ticked, member, consents):
    ticked.firm.reads_pictures = consents
    ticked.firm.save()
    send(phone, ticked)
    form = phone.get(reverse("section", kwargs={"uuid": ticked.pk, "section": "protect"})).text
    signed(ticked, member)
    said = "The picture says: 2026-09-14 09:01:02 -07:00; 47.1000, -122.9000"
    assert [said in page for page in (form, record_page(phone, ticked))] == [consents, consents]


def test_a_photo_that_is_named_and_has_not_come_is_said_to_be_missing(phone, ticked, member):
    announce(phone, ticked)
    step = ticked.document["protection"][0]["id"]
    named = {"sha256": digest(PICTURE), "media_type": "image/jpeg", "bytes": len(PICTURE)}
    edit_draft(ticked, [Edit("n", f"protection[{step}].evidence[0]", named, ticked.revision)], member.user)
    signed(ticked, member)
    page = record_page(phone, ticked)
    assert "named here, and not received yet" in page
    assert f'src="{address("photo", ticked)}' not in page


INCIDENT = "incidents[0a6c1f5d-2b11-4f7e-9a53-0000000000fb]"


def incident_of(treatment: Treatment) -> dict:
    treatment.refresh_from_db()
    (incident,) = treatment.document["incidents"]
    return incident


def test_a_photo_stands_beside_the_incident_that_it_shows_and_is_taken_off_it(phone, ticked, member):
    said = announce(phone, ticked, step=INCIDENT)
    send_piece(phone, ticked, 0, PICTURE)
    assert (said.status_code, announce(phone, ticked, step=INCIDENT).json()["why"]) == (200, "no_step")
    edit_draft(ticked, [Edit("add", INCIDENT, {"kind": "spill"}, ticked.revision)], member.user)
    assert announce(phone, ticked, step=INCIDENT).json()["taken"] is True
    assert [each["sha256"] for each in incident_of(ticked)["evidence"]] == [digest(PICTURE)]
    after = phone.get(reverse("section", kwargs={"uuid": ticked.pk, "section": "after"})).text
    assert f'name="photo:{INCIDENT}"' in after and address("photo", ticked) in after
    phone.post(address("remove_photo", ticked), {"step": INCIDENT, "section": "after"})
    assert "evidence" not in incident_of(ticked)


def test_an_incident_names_no_photo_that_is_not_there(ticked, member):
    value = {"kind": "spill", "evidence": [{"sha256": digest(PICTURE)}]}
    with pytest.raises(DocumentFaults):
        edit_draft(ticked, [Edit("add", INCIDENT, value, ticked.revision)], member.user)
