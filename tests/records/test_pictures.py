"""What is taken as a picture, and what its copies hold."""

from io import BytesIO

import pytest
from PIL import Image

from records.photo_faults import PhotoError
from records.pictures import SaidByPicture, copy_of, media_type_of, said_by
from tests.pictures import LYING, bomb, jpeg, png


@pytest.fixture
def kept(tmp_path):
    def keep(data: bytes):
        path = tmp_path / "picture"
        path.write_bytes(data)
        return path

    return keep


def refusal(ask, *arguments) -> str:
    with pytest.raises(PhotoError) as caught:
        ask(*arguments)
    return caught.value.say("en")


@pytest.mark.parametrize(("data", "media_type"), [(jpeg(), "image/jpeg"), (png(), "image/png")])
def test_a_jpeg_and_a_png_are_pictures(kept, data, media_type):
    assert media_type_of(kept(data)) == media_type


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"%PDF-1.7", b"<svg/>", b"\xff\xd8\xff", png()[:20]])
def test_anything_else_is_none(kept, data):
    assert refusal(media_type_of, kept(data)) == (
        "This is no picture that can be read: a JPEG or PNG file is expected."
    )


def test_a_picture_of_gigabytes_is_refused_in_words_before_it_is_decoded(kept):
    assert refusal(media_type_of, kept(bomb())) == (
        "The picture is 60000 by 60000 pixels; at most 50 million pixels are taken."
    )


def test_the_bound_of_pixels_is_the_last_one_taken(kept):
    assert media_type_of(kept(bomb(10_000, 5_000))) == "image/png"
    assert "10001 by 5000" in refusal(media_type_of, kept(bomb(10_001, 5_000)))


@pytest.mark.parametrize("data", [jpeg(640, 480)[:-400], png(640, 480)[:-40]])
def test_a_torn_picture_has_no_copy(kept, data):
    assert "no picture that can be read" in refusal(copy_of, kept(data), 320)


def test_a_copy_is_upright_small_enough_and_says_nothing_of_the_camera(kept):
    copy = Image.open(BytesIO(copy_of(kept(jpeg(2000, 1000, orientation=LYING)), 1600)))
    assert copy.size == (800, 1600)
    assert (copy.format, dict(copy.getexif())) == ("JPEG", {})
    assert set(copy.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_what_is_clear_in_a_picture_is_white_in_its_copy(kept):
    assert Image.open(BytesIO(copy_of(kept(png()), 320))).getpixel((5, 5)) == (255, 255, 255)


def test_a_small_picture_is_not_made_larger(kept):
    assert Image.open(BytesIO(copy_of(kept(jpeg(64, 48)), 320))).size == (64, 48)


def test_a_picture_says_when_and_where_it_was_taken(kept):
    assert said_by(kept(jpeg())) == SaidByPicture("2026:09:14 09:01:02 -07:00", "47.1000", "-122.9000")


DAMAGED = jpeg().replace(b"Exif\0\0MM", b"Exif\0\0??")


def test_a_picture_with_damaged_words_of_the_camera_is_shown_as_it_lies(kept):
    assert jpeg() != DAMAGED
    assert Image.open(BytesIO(copy_of(kept(DAMAGED), 320))).size == (64, 48)


@pytest.mark.parametrize("data", [png(), b"none", DAMAGED])
def test_a_picture_in_which_nothing_can_be_read_says_nothing(kept, data):
    assert said_by(kept(data)) == SaidByPicture()
