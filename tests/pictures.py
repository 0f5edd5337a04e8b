"""Pictures as a phone would take them, made here: nothing of them is kept as a file."""

import struct
import zlib
from hashlib import sha256
from io import BytesIO

from PIL import Image
from PIL.TiffImagePlugin import IFDRational

UPRIGHT, LYING = 1, 6
"""Orientation as Exif has it: as it is, and to be turned by a quarter to the right."""


def jpeg(width: int = 64, height: int = 48, colour: str = "green", orientation: int = UPRIGHT) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "Invented Camera"
    exif.get_ifd(0x8769).update({36867: "2026:09:14 09:01:02", 36881: "-07:00"})
    degrees = {"latitude": (47, 6, 0), "longitude": (122, 54, 0)}
    parts = {name: tuple(IFDRational(part) for part in value) for name, value in degrees.items()}
    exif.get_ifd(0x8825).update({1: "N", 2: parts["latitude"], 3: "W", 4: parts["longitude"]})
    made = BytesIO()
    Image.new("RGB", (width, height), colour).save(made, "JPEG", exif=exif)
    return made.getvalue()


def png(width: int = 64, height: int = 48) -> bytes:
    made = BytesIO()
    Image.new("RGBA", (width, height), (0, 0, 0, 0)).save(made, "PNG")
    return made.getvalue()


def large_jpeg(size: int, colour: str = "green") -> bytes:
    """A picture of so many bytes: what stands behind its end is no part of it."""
    start = jpeg(colour=colour)
    return start + bytes(size - len(start))


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """A PNG of a few bytes that would be decoded into gigabytes."""
    head = struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(1000))), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )


def of_many_scans(times: int, width: int = 640, height: int = 480) -> bytes:
    """A progressive JPEG whose last scan comes so many times more."""
    made = BytesIO()
    Image.new("RGB", (width, height), "green").save(made, "JPEG", progressive=True)
    data = made.getvalue()
    last, end = data.rindex(b"\xff\xda"), data.rindex(b"\xff\xd9")
    return data[:end] + times * data[last:end] + data[end:]


def digest(data: bytes) -> str:
    return sha256(data).hexdigest()
