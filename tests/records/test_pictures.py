"""What is taken as a picture, and what its copies hold."""

import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from records import pictures
from records.photo_faults import PhotoError
from records.pictures import SaidByPicture, copy_of, media_type_of, said_by
from tests.pictures import LYING, bomb, jpeg, of_many_scans, png


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
        "The picture is 60000 by 60000 pixels; at most 25 million pixels are taken."
    )


def test_the_bound_of_pixels_is_the_last_one_taken(kept):
    assert media_type_of(kept(bomb(5_000, 5_000))) == "image/png"
    assert "5001 by 5000" in refusal(media_type_of, kept(bomb(5_001, 5_000)))


def test_a_jpeg_of_one_scan_may_have_twice_as_many_pixels_for_it_is_drawn_small_as_it_is_read(kept):
    assert media_type_of(kept(jpeg(10_000, 5_000))) == "image/jpeg"
    assert "at most 50 million" in refusal(media_type_of, kept(jpeg(10_001, 5_000)))
    assert "at most 25 million" in refusal(media_type_of, kept(of_many_scans(0, 5_001, 5_000)))


def test_a_side_is_bounded_too_for_each_line_of_a_picture_takes_memory(kept):
    assert media_type_of(kept(bomb(1, 20_000))) == "image/png"
    for size in ((1, 20_001), (20_001, 1)):
        assert "a side of at most 20000 pixels" in refusal(media_type_of, kept(bomb(*size)))


@pytest.mark.parametrize("ask", [media_type_of, lambda path: copy_of(path, 320)])
def test_a_picture_that_would_be_drawn_over_and_over_is_refused_before_it_is_decoded(kept, ask):
    assert ask(kept(of_many_scans(20)))
    assert "in more than 32 passes" in refusal(ask, kept(of_many_scans(23)))


def test_what_only_looks_like_a_scan_in_the_words_of_the_camera_is_none(kept):
    words = b"\xff\xda\0\x08" * 100
    data = jpeg()
    assert media_type_of(kept(data[:2] + b"\xff\xed\x01\x92" + words + data[2:])) == "image/jpeg"


def test_a_picture_of_markers_alone_is_none(kept):
    data = jpeg()
    assert "no picture" in refusal(media_type_of, kept(data[:2] + b"\xff\xe0\0\2" * 6_000 + data[2:]))


def test_a_picture_that_is_filled_up_before_its_end_is_none_for_a_decoder_would_read_that_over_and_over(kept):
    data = jpeg()
    assert "no picture" in refusal(media_type_of, kept(data[:-2] + b"\xff" * 5_000 + data[-1:]))
    assert media_type_of(kept(data + b"\xff" * 5_000)) == "image/jpeg"


def peak_of(path: Path) -> int:
    """The most memory, in megabytes, that a process of its own takes to copy the picture."""
    asked = (
        "import sys; from pathlib import Path; from records.pictures import copy_of;"
        "copy_of(Path(sys.argv[1]), 1600);"
        "print(Path('/proc/self/status').read_text().partition('VmHWM:')[2].split()[0])"
    )
    return int(subprocess.check_output([sys.executable, "-c", asked, str(path)])) // 1024


LARGEST = {
    "a PNG with clear parts": lambda: of_size("RGBA", 5_000, "PNG"),
    "a long PNG": lambda: of_size("RGBA", 1_250, "PNG", 20_000),
    "a JPEG of one scan": lambda: of_size("RGB", 7_070, "JPEG"),
    "a long JPEG of one scan": lambda: of_size("CMYK", 2_500, "JPEG", 20_000),
    "a JPEG of several scans": lambda: of_size("CMYK", 5_000, "JPEG", progressive=True),
}


def of_size(mode: str, width: int, kind: str, height: int = 0, **more) -> bytes:
    made = BytesIO()
    Image.new(mode, (width, height or width)).save(made, kind, **more)
    return made.getvalue()


@pytest.mark.parametrize("made", LARGEST.values(), ids=LARGEST)
def test_the_largest_pictures_that_are_taken_fit_into_300_megabytes(kept, made):
    assert peak_of(kept(made())) < 300


def test_who_does_not_get_a_turn_soon_is_told_to_come_later(kept, monkeypatch):
    monkeypatch.setattr(pictures, "SECONDS_FOR_A_TURN", 0)
    with pictures._turn():
        assert refusal(copy_of, kept(jpeg()), 320).startswith("Another photo is being looked at")
    assert copy_of(kept(jpeg()), 320)


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
