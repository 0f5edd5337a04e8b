"""The photos that a record names lie in its bundle as they came, and are compared with the digests it names."""

import io
from zipfile import ZipFile

import pytest
from django.urls import reverse

from records.bundle.writer import write_bundle
from records.models import Photo
from records.services import photo_store
from records.services.corrections import start_correction
from records.services.photo_evidence import attach
from tests.pictures import digest
from tests.records.logged import sign_now
from tests.records.services.test_photos import PICTURE, STEP, send
from tests.records.test_bundle import add_up, failing, run


@pytest.fixture
def shown(ticked, done, member) -> Photo:
    """A photo that both versions of a treatment name."""
    photo = send(done, PICTURE, member.user, (100_000,))
    attach(photo, STEP, member.user)
    sign_now(done, member)
    sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    return photo


def unpacked(treatment, folder, withheld=(), *, photos=True):
    written = io.BytesIO()
    write_bundle(treatment.firm, [treatment.pk], written, withheld, photos=photos)
    ZipFile(written).extractall(folder)
    return folder


def test_a_photo_is_in_it_byte_for_byte_and_another_in_its_place_is_named(shown, done, tmp_path):
    folder, name = unpacked(done, tmp_path / "b"), f"photos/{digest(PICTURE)}.jpg"
    assert (folder / name).read_bytes() == PICTURE
    code, said = run(folder)
    assert code == 0, said
    assert f"holds     {done.number} version 2, {name}" in said
    (folder / name).write_bytes(PICTURE + b"x")
    (folder / "photos/other.jpg").write_bytes(PICTURE)
    add_up(folder)
    means = "this is not the picture that the record names"
    assert failing(folder) == [
        *(f"{done.number} version {version}, {name}: {means}" for version in (1, 2)),
        "photos/other.jpg: no record in this bundle names it",
    ]


@pytest.mark.parametrize("withheld", ["protection", "site", "customer"])
def test_with_the_section_that_names_it_or_says_where_it_is_a_photo_is_left_out(
    shown, done, tmp_path, withheld
):
    folder = unpacked(done, tmp_path / "b", [withheld])
    assert not (folder / "photos").exists()
    code, said = run(folder)
    assert code == 0, said
    told = f"withheld  {done.number} version 1, photo {digest(PICTURE)}"
    assert (told in said) == (withheld != "protection")


def test_a_manager_ticks_whether_photos_go_along(shown, done, client, colleague):
    client.force_login(colleague.user)
    where = reverse("hand_over_one", kwargs={"uuid": done.pk})
    for ticked, wanted in (({"photos": ["named"]}, [f"photos/{digest(PICTURE)}.jpg"]), ({}, [])):
        names = ZipFile(io.BytesIO(client.post(where, ticked).getvalue())).namelist()
        assert [name for name in names if name.startswith("photos/")] == wanted


def test_a_photo_that_is_gone_is_said_to_be_withheld(shown, done, tmp_path):
    photo_store.original(shown).unlink()
    folder = unpacked(done, tmp_path / "b")
    code, said = run(folder)
    assert code == 0, said
    assert f"withheld  {done.number} version 1, photo {digest(PICTURE)}" in said
