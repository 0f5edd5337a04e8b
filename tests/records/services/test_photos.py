"""Photos come in pieces, torn and doubled, and are whole only when their bytes are the announced ones."""

from datetime import UTC, datetime, timedelta

import pytest
import time_machine
from django.core.exceptions import PermissionDenied
from django.core.files.base import ContentFile
from django.core.management import call_command
from django.db import connection

from compliance.services.signing import prepare, sign_treatment
from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.models import Photo
from records.photo_faults import PhotoBusyError, PhotoError
from records.pictures import copy_of
from records.services import photo_judging, photo_store, photos
from records.services.corrections import start_correction
from records.services.drafts import NotADraftError, edit_draft
from records.services.named_photos import named_by
from records.services.photo_evidence import attach, detach, sweep
from records.services.photo_judging import complete
from records.services.photos import (
    Announced,
    WrongOffsetError,
    add_piece,
    announce,
    keep_whole,
)
from records.services.to_sign import Signer
from shared import clock
from tests.factories import PASSWORD
from tests.pictures import bomb, digest, jpeg, png
from tests.records.services.test_drafts import reread

PICTURE = jpeg()
TAKEN_AT = datetime(2026, 9, 14, 15, 55, tzinfo=UTC)
STEP = "storm-drains-covered"


def announced(data: bytes, **more) -> Announced:
    return Announced(digest(data), len(data), **more)


def send(treatment, data: bytes, user, sizes=(100,)) -> Photo:
    """The photo sent in pieces of these sizes, the last one of them as often as needed."""
    photo = announce(treatment, announced(data, taken_at=TAKEN_AT), user)
    sizes = list(sizes)
    while photo.came_in < len(data):
        size = sizes.pop(0) if len(sizes) > 1 else sizes[0]
        photo = add_piece(photo, photo.came_in, data[photo.came_in :][:size], user)
    return photo


def evidence(treatment) -> list[dict]:
    (step,) = reread(treatment).document["protection"]
    return step.get("evidence", [])


def refusal(ask, *arguments) -> str:
    with pytest.raises(PhotoError) as caught:
        ask(*arguments)
    return caught.value.wording_id.partition("/")[2]


@pytest.mark.parametrize("sizes", [(1, 7, 500), (100_000,)])
def test_a_photo_comes_in_pieces_and_is_kept_byte_for_byte(draft, member, sizes):
    photo = send(draft, PICTURE, member.user, sizes)
    assert (photo.is_whole, photo.media_type, photo.taken_at) == (True, "image/jpeg", TAKEN_AT)
    assert photo_store.original(photo).read_bytes() == PICTURE


def test_the_files_can_be_read_by_this_user_alone(draft, member, settings):
    send(draft, PICTURE, member.user)
    paths = [settings.FILES_DIR, *settings.FILES_DIR.rglob("*")]
    assert len(paths) > 4
    assert {path.stat().st_mode & 0o077 for path in paths} == {0}


def test_a_photo_announced_again_goes_on_where_it_stopped(draft, member, colleague):
    photo = announce(draft, announced(PICTURE), member.user)
    add_piece(photo, 0, PICTURE[:300], member.user)
    assert announce(draft, announced(PICTURE), colleague.user).came_in == 300
    assert Photo.objects.for_firm(draft.firm).count() == 1


@pytest.mark.parametrize("offset", [0, 299, 301])
def test_a_piece_that_does_not_go_on_where_the_last_ended_is_told_where_to_go_on(draft, member, offset):
    photo = announce(draft, announced(PICTURE), member.user)
    add_piece(photo, 0, PICTURE[:300], member.user)
    with pytest.raises(WrongOffsetError) as caught:
        add_piece(photo, offset, PICTURE[offset:][:100], member.user)
    assert caught.value.offset == 300


def test_a_piece_that_was_written_and_not_noted_is_written_again(draft, member):
    photo = announce(draft, announced(PICTURE), member.user)
    photo_store.write_piece(photo, 0, b"torn" * 100)
    photo = add_piece(photo, 0, PICTURE[:50], member.user)
    assert add_piece(photo, 50, PICTURE[50:], member.user).is_whole


def test_a_whole_photo_takes_no_more(draft, member):
    photo = send(draft, PICTURE, member.user)
    with pytest.raises(WrongOffsetError):
        add_piece(photo, len(PICTURE), b"more", member.user)
    assert announce(draft, announced(PICTURE), member.user).is_whole


def test_two_senders_of_the_last_piece_end_with_one_whole_photo(draft, member):
    photo = announce(draft, announced(PICTURE), member.user)
    slower = Photo.objects.for_firm(draft.firm).get(pk=photo.pk)
    add_piece(photo, 0, PICTURE, member.user)
    slower.came_in = len(PICTURE)
    assert complete(slower).is_whole
    assert photo_store.original(slower).read_bytes() == PICTURE


def test_other_bytes_than_the_announced_ones_are_thrown_away_and_can_be_sent_again(draft, member):
    photo = announce(draft, announced(PICTURE), member.user)
    assert refusal(add_piece, photo, 0, bytes(len(PICTURE)), member.user) == "other_bytes"
    assert send(draft, PICTURE, member.user).is_whole


def test_more_bytes_than_announced_are_refused(draft, member):
    photo = announce(draft, announced(PICTURE), member.user)
    assert refusal(add_piece, photo, 0, PICTURE + b"x", member.user) == "other_bytes"


@pytest.mark.parametrize(
    ("data", "why"),
    [(b"%PDF-1.7", "not_a_picture"), (bomb(), "too_many_pixels"), (PICTURE[:700], "not_a_picture")],
)
def test_what_is_no_picture_is_refused_and_nothing_of_it_kept(draft, member, settings, data, why):
    photo = announce(draft, announced(data), member.user)
    assert refusal(add_piece, photo, 0, data, member.user) == why
    assert not Photo.objects.for_firm(draft.firm).exists()
    assert [path for path in settings.FILES_DIR.rglob("*") if path.is_file()] == []


def test_the_largest_photo_is_taken_and_one_byte_more_is_not(draft, member):
    assert refusal(announce, draft, Announced("ab" * 32, photos.MOST_BYTES + 1), member.user) == "too_big"
    assert refusal(announce, draft, Announced("ab" * 32, 0), member.user) == "empty"
    assert announce(draft, Announced("ab" * 32, photos.MOST_BYTES), member.user).came_in == 0


def came(treatment, member, count: int, size: int = 10) -> None:
    """So many photos of which all bytes have come."""
    Photo.objects.bulk_create(
        Photo(
            firm=treatment.firm,
            treatment=treatment,
            sha256=f"{number:064}",
            bytes=size,
            came_in=size,
            by=member.user,
            received_at=clock.now(),
        )
        for number in range(count)
    )


def test_a_treatment_has_a_hundred_photos_at_most(draft, member):
    came(draft, member, 99)
    assert announce(draft, announced(png()), member.user)
    add_piece(announce(draft, announced(PICTURE), member.user), 0, PICTURE[:1], member.user)
    assert refusal(announce, draft, announced(jpeg(colour="red")), member.user) == "too_many"
    assert announce(draft, Announced(f"{7:064}", 10), member.user).is_whole


def test_a_firm_has_a_budget_of_bytes_a_day(draft, member, monkeypatch):
    monkeypatch.setattr(photos, "MOST_BYTES_A_DAY", 1000)
    came(draft, member, 9, 100)
    assert refusal(announce, draft, Announced("cd" * 32, 101), member.user) == "too_much_today"
    assert announce(draft, Announced("cd" * 32, 100), member.user)
    with time_machine.travel(datetime.now(UTC) + timedelta(days=1, minutes=1)):
        assert announce(draft, Announced("ef" * 32, 1000), member.user)


def test_what_is_announced_and_never_sent_blocks_nobody(draft, member, colleague):
    for number in range(120):
        announce(draft, Announced(f"{number:064}", photos.MOST_BYTES), member.user)
    assert send(draft, PICTURE, colleague.user).is_whole
    assert send(draft, png(), member.user).is_whole


def test_the_budget_holds_for_pieces_of_what_was_announced_before_it_was_used_up(draft, member, monkeypatch):
    monkeypatch.setattr(photos, "MOST_BYTES_A_DAY", 1000)
    photo = announce(draft, Announced("cd" * 32, 900), member.user)
    came(draft, member, 9, 100)
    assert refusal(add_piece, photo, 0, bytes(101), member.user) == "too_much_today"
    assert add_piece(photo, 0, bytes(100), member.user).came_in == 100


@pytest.mark.django_db(transaction=True)
def test_of_what_a_person_has_begun_the_sixth_gives_the_oldest_up_and_can_be_sent_again(
    draft, member, colleague, settings
):
    first = announce(draft, announced(PICTURE), member.user)
    add_piece(first, 0, PICTURE[:10], member.user)
    others = announce(draft, announced(png()), colleague.user)
    for number in range(4):
        announce(draft, Announced(f"{number:064}", 10), member.user)
    assert photo_store.half(first).exists()
    announce(draft, Announced(f"{4:064}", 10), member.user)
    begun = Photo.objects.for_firm(draft.firm)
    assert (begun.filter(by=member.user).count(), begun.filter(pk=others.pk).exists()) == (5, True)
    assert [path for path in settings.FILES_DIR.rglob("*") if path.is_file()] == []
    assert send(draft, PICTURE, member.user).is_whole


@pytest.mark.django_db(transaction=True)
def test_no_lock_of_the_database_is_held_while_a_photo_is_looked_at(draft, member, monkeypatch):
    held = []
    monkeypatch.setattr(
        photo_judging, "copy_of", lambda *_: held.append(connection.in_atomic_block) or b"a copy"
    )
    assert send(draft, PICTURE, member.user).is_whole
    assert held == [False]


def test_a_photo_that_is_being_looked_at_is_busy_for_a_second_sender_and_stays(draft, member, monkeypatch):
    photo = announce(draft, announced(PICTURE), member.user)
    said = []

    def slow(*arguments):
        said.append(refusal(announce, draft, announced(PICTURE), member.user))
        return copy_of(*arguments)

    monkeypatch.setattr(photo_judging, "copy_of", slow)
    assert add_piece(photo, 0, PICTURE, member.user).is_whole
    assert said == ["busy"]


def test_a_photo_that_gets_no_turn_is_looked_at_when_it_is_announced_again(draft, member, monkeypatch):
    def busy(*_):
        raise PhotoBusyError

    photo = announce(draft, announced(PICTURE), member.user)
    monkeypatch.setattr(photo_judging, "copy_of", busy)
    assert refusal(add_piece, photo, 0, PICTURE, member.user) == "busy"
    monkeypatch.undo()
    assert announce(draft, announced(PICTURE), member.user).is_whole


def test_a_photo_whose_bytes_are_lost_is_sent_again_from_the_start(draft, member, monkeypatch):
    monkeypatch.setattr(photos, "complete", lambda photo: photo)
    photo = add_piece(announce(draft, announced(PICTURE), member.user), 0, PICTURE, member.user)
    photo_store.half(photo).unlink()
    assert refusal(complete, photo) == "other_bytes"
    monkeypatch.undo()
    assert send(draft, PICTURE, member.user).is_whole


def named(data: bytes) -> dict:
    return {"sha256": digest(data), "media_type": "image/jpeg", "bytes": len(data)}


@pytest.mark.parametrize(
    ("end", "value"),
    [
        (".evidence[0]", named(PICTURE)),
        (".evidence", [named(PICTURE)]),
        ("", {"step": STEP, "evidence": [named(PICTURE)]}),
        (None, [{"step": STEP, "evidence": [named(PICTURE)]}]),
    ],
)
def test_an_edit_names_no_photo_but_one_that_is_there_or_announced(ticked, member, end, value):
    item = f"protection[{ticked.document['protection'][0]['id']}]"
    path = "protection" if end is None else item + end
    edit = [Edit("invented", path, value, ticked.revision)]
    with pytest.raises(DocumentFaults) as caught:
        edit_draft(ticked, edit, member.user)
    assert caught.value.faults[0].sentence("en") == (
        f"{digest(PICTURE)} is no photo of this treatment; take the photo first"
    )
    assert evidence(ticked) == []
    announce(ticked, announced(PICTURE), member.user)
    edit_draft(ticked, edit, member.user)
    assert [each["sha256"] for each in evidence(ticked)] == [digest(PICTURE)]


def test_a_photo_is_named_in_the_document_once_by_its_digest(ticked, member):
    photo = send(ticked, PICTURE, member.user)
    for _ in range(2):
        attach(photo, STEP, member.user)
    assert evidence(ticked) == [
        {
            "sha256": digest(PICTURE),
            "media_type": "image/jpeg",
            "bytes": len(PICTURE),
            "taken_at": "2026-09-14T08:55:00-07:00",
        }
    ]


def test_the_digest_of_a_photo_is_not_edited_to_one_of_none(ticked, member):
    attach(send(ticked, PICTURE, member.user), STEP, member.user)
    path = f"protection[{ticked.document['protection'][0]['id']}].evidence[0].sha256"
    with pytest.raises(DocumentFaults):
        edit_draft(ticked, [Edit("invented", path, "ab" * 32, reread(ticked).revision)], member.user)
    assert [each["sha256"] for each in evidence(ticked)] == [digest(PICTURE)]


def test_photos_of_two_people_stand_side_by_side(ticked, member, colleague):
    for data, user in ((PICTURE, member.user), (png(), colleague.user)):
        attach(send(ticked, data, user), STEP, user)
    assert [each["media_type"] for each in evidence(ticked)] == ["image/jpeg", "image/png"]


def test_a_photo_of_a_step_that_is_not_ticked_waits(draft, member):
    photo = send(draft, PICTURE, member.user)
    assert refusal(attach, photo, STEP, member.user) == "no_step"
    assert photo_store.original(photo).exists()


@pytest.mark.django_db(transaction=True)
def test_a_photo_that_is_removed_is_gone(ticked, member):
    first, second = (send(ticked, data, member.user) for data in (PICTURE, png()))
    for photo in (first, second):
        attach(photo, STEP, member.user)
    detach(first, STEP, member.user)
    assert [each["sha256"] for each in evidence(ticked)] == [second.sha256]
    assert not photo_store.original(first).exists()
    assert photo_store.original(second).exists()


def signed(treatment, member):
    treatment = reread(treatment)
    findings = prepare(treatment, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(treatment, member.user, PASSWORD, answers)
    return reread(treatment)


def test_nothing_is_added_to_a_signed_record_or_taken_from_it(ticked, member):
    photo = send(ticked, PICTURE, member.user)
    begun = announce(ticked, announced(png()), member.user)
    attach(photo, STEP, member.user)
    treatment = signed(ticked, member)
    for ask in (
        lambda: announce(treatment, announced(jpeg(colour="red")), member.user),
        lambda: add_piece(begun, 0, png(), member.user),
        lambda: attach(photo, STEP, member.user) or detach(photo, STEP, member.user),
    ):
        with pytest.raises(NotADraftError):
            ask()
    assert len(evidence(ticked)) == 1


def test_a_photo_that_a_signed_record_names_may_still_come(ticked, member):
    announce(ticked, announced(PICTURE), member.user)
    path = f"protection[{ticked.document['protection'][0]['id']}].evidence[0]"
    edit_draft(ticked, [Edit("named", path, named(PICTURE), ticked.revision)], member.user)
    treatment = signed(ticked, member)
    photo = send(treatment, PICTURE, member.user)
    attach(photo, STEP, member.user)
    assert (photo.is_whole, evidence(ticked)) == (True, [named(PICTURE)])


@pytest.mark.django_db(transaction=True)
def test_what_a_signed_version_names_is_kept_when_a_correction_takes_it_off(ticked, member):
    photo = send(ticked, PICTURE, member.user)
    attach(photo, STEP, member.user)
    treatment = start_correction(signed(ticked, member), member.user, "the photo shows another drain")
    detach(photo, STEP, member.user)
    assert evidence(ticked) == []
    assert named_by(treatment) == {photo.sha256}
    assert photo_store.original(photo).exists()


def test_a_photo_for_a_follow_up_is_taken_once_the_record_is_signed(ticked, member):
    with pytest.raises(ValueError, match=ticked.number):
        keep_whole(ticked, ContentFile(PICTURE), digest(PICTURE), member.user, later=True)
    treatment = signed(ticked, member)
    assert keep_whole(treatment, ContentFile(PICTURE), digest(PICTURE), member.user, later=True).is_whole


def test_an_inspector_sends_none(draft, member):
    member.role = "inspector"
    member.save()
    with pytest.raises(PermissionDenied):
        announce(draft, announced(PICTURE), type(member.user).objects.get(pk=member.user.pk))


@pytest.mark.django_db(transaction=True)
def test_half_a_photo_is_swept_after_a_week_and_a_whole_one_is_not(draft, member, settings):
    whole = send(draft, PICTURE, member.user)
    add_piece(announce(draft, announced(png()), member.user), 0, png()[:20], member.user)
    with time_machine.travel(datetime.now(UTC) + timedelta(days=6, hours=23)):
        assert sweep(draft.firm) == 0
    with time_machine.travel(datetime.now(UTC) + timedelta(days=7, minutes=1)):
        call_command("sweep_photos")
    assert list(Photo.objects.for_firm(draft.firm)) == [whole]
    assert [path.name for path in settings.FILES_DIR.rglob("*.half")] == []
