"""Pictures from a camera: judged before they are decoded, copied for viewing without what is written in them.

JPEG and PNG alone: phones' cameras and screenshots make these, and both say their size before any decoding.
"""

import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from threading import Lock
from typing import Any

from PIL import Image, ImageOps
from PIL.ImageFile import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile

from records.jpeg_scans import components_of_scans
from records.photo_faults import PhotoBusyError, PhotoError

MOST_MILLION_PIXELS = 50
MOST_MILLION_PIXELS_AT_ONCE = 25
"""Of a picture that is held whole while it is decoded: a PNG, and a JPEG of several scans."""
LONGEST_SIDE = 20_000
MOST_SCANS = 32
SECONDS_FOR_A_TURN = 2
QUALITY = 82
_READERS: dict[bytes, tuple[str, type[ImageFile]]] = {
    b"\xff\xd8\xff": ("image/jpeg", JpegImageFile),
    b"\x89PNG\r\n\x1a\n": ("image/png", PngImageFile),
}
_ONE_AT_A_TIME = Lock()
"""A picture takes up to 300 MB while it is decoded: several at once could take the machine down."""

# Tags of Exif (CIPA DC-008; from memory).
_CAMERA, _PLACE = 0x8769, 0x8825
_TAKEN, _TAKEN_OFFSET = 36867, 36881
_NORTH_SOUTH, _LATITUDE, _EAST_WEST, _LONGITUDE = 1, 2, 3, 4


@dataclass(frozen=True)
class SaidByPicture:
    """What the camera wrote into the picture: its clock as written, and a position in degrees."""

    taken: str = ""
    latitude: str = ""
    longitude: str = ""


def media_type_of(path: Path) -> str:
    """The media type of a picture that may be decoded. Raises PhotoError; nothing is decoded for it."""
    with _opened(path) as (media_type, picture):
        _refuse_too_large(picture, path)
        return media_type


def copy_of(path: Path, longest_side: int) -> bytes:
    """The picture as a JPEG, upright, no side longer than so many pixels, and with nothing but its pixels.

    Raises PhotoError where it can't be decoded to its end, PhotoBusyError where others are being decoded.
    """
    with _turn(), _opened(path) as (_media_type, picture):
        _refuse_too_large(picture, path)
        return _drawn(picture, longest_side)


def said_by(path: Path) -> SaidByPicture:
    """What the picture says of when and where it was taken; nothing where that can't be read."""
    try:
        with _opened(path) as (media_type, picture):
            if media_type == "image/png" and "exif" not in picture.info:
                return SaidByPicture()  # it could only stand behind the pixels, which would be decoded for it
            written = picture.getexif()
            camera, place = written.get_ifd(_CAMERA), written.get_ifd(_PLACE)
    except PhotoError:
        return SaidByPicture()
    taken = f"{_text(camera, _TAKEN)} {_text(camera, _TAKEN_OFFSET)}".strip()
    latitude = _degrees(place.get(_LATITUDE), _text(place, _NORTH_SOUTH), "S")
    longitude = _degrees(place.get(_LONGITUDE), _text(place, _EAST_WEST), "W")
    known = latitude and longitude
    return SaidByPicture(taken, latitude if known else "", longitude if known else "")


@contextmanager
def _turn() -> Iterator[None]:
    """Who waits for it long would keep a thread from everybody else: so nobody does."""
    if not _ONE_AT_A_TIME.acquire(timeout=SECONDS_FOR_A_TURN):
        raise PhotoBusyError
    try:
        yield
    finally:
        _ONE_AT_A_TIME.release()


@contextmanager
def _opened(path: Path) -> Iterator[tuple[str, ImageFile]]:
    """The picture, of which no more than the head is read; whatever its reader trips over is a PhotoError."""
    with path.open("rb") as file:
        start = file.read(8)
        file.seek(0)
        media_type, reader = next(
            (found for magic, found in _READERS.items() if start.startswith(magic)), ("", None)
        )
        if reader is None:
            raise PhotoError("photo/not_a_picture")
        try:
            # Not Image.open: that tries readers of formats that decode before they can be judged.
            picture = reader(file)
            yield media_type, picture
        except PhotoError:
            raise
        except Exception as error:  # a damaged file makes a reader raise nearly anything
            raise PhotoError("photo/not_a_picture") from error


def _refuse_too_large(picture: ImageFile, path: Path) -> None:
    most = MOST_MILLION_PIXELS_AT_ONCE if _is_held_whole(picture, path) else MOST_MILLION_PIXELS
    width, height = map(str, picture.size)
    if math.prod(picture.size) > most * 1_000_000:
        raise PhotoError("photo/too_many_pixels", width=width, height=height, most=str(most))
    if max(picture.size) > LONGEST_SIDE:
        raise PhotoError("photo/too_long", width=width, height=height, most=str(LONGEST_SIDE))


def _is_held_whole(picture: ImageFile, path: Path) -> bool:
    """Whether all of it is in memory while it is decoded, however small it is drawn."""
    if not isinstance(picture, JpegImageFile):
        return True
    scans = components_of_scans(path.read_bytes())
    if len(scans) > MOST_SCANS:
        raise PhotoError("photo/too_many_scans", most=str(MOST_SCANS))
    return scans != [picture.layers] or "progressive" in picture.info


def _drawn(picture: ImageFile, longest_side: int) -> bytes:
    share = min(longest_side / max(picture.size), 1)
    picture.draft("RGB", (math.ceil(picture.width * share), math.ceil(picture.height * share)))
    picture.load()
    picture.thumbnail((longest_side, longest_side))
    upright = _upright(picture)
    clean = Image.new("RGB", upright.size, "white")
    clean.paste(upright.convert("RGB"), mask=upright.getchannel("A") if upright.mode == "RGBA" else None)
    written = BytesIO()
    clean.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue()


def _upright(picture: ImageFile) -> Image.Image:
    try:
        return ImageOps.exif_transpose(picture)
    except Exception:  # what the camera wrote is damaged: the picture is shown as it lies
        return picture.copy()


def _text(tags: Mapping[int, Any], tag: int) -> str:
    value = tags.get(tag)
    return value.strip("\0 ")[:40] if isinstance(value, str) else ""


def _degrees(parts: Any, side: str, negative: str) -> str:
    """Degrees, minutes and seconds as degrees with four digits; '' for what is none."""
    try:
        degrees, minutes, seconds = (float(part) for part in parts)
        value = degrees + minutes / 60 + seconds / 3600
    except (TypeError, ValueError, ZeroDivisionError):
        return ""
    if not math.isfinite(value) or abs(value) > 180 or not side:
        return ""
    return f"{-value if side.upper().startswith(negative) else value:.4f}"
