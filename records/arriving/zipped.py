"""The parts of a zip file, each opened only within bounds: what is declared is summed before a byte is read."""

import io
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from records.imports.faults import refused

MOST_PARTS = 2_000
_PACKED_AS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""The ways of workbooks (ECMA-376 part 2, annex on ZIP; from memory). The others are unpacked without a bound:
a kilobyte can be a gigabyte at once."""
MOST_UNPACKED = 400_000_000
CHUNK = 64 * 1024
BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError, OSError, ValueError)


class Parts:
    """Raises FileError for what is no zip file, would unpack to too much, or has a broken part."""

    def __init__(self, data: bytes) -> None:
        with _told():
            self._archive = zipfile.ZipFile(io.BytesIO(data))
        parts = self._archive.infolist()
        if any(each.compress_type not in _PACKED_AS for each in parts):
            raise refused("not_workbook")
        sizes = {each.filename: each.file_size for each in parts}
        if len(parts) > MOST_PARTS or sum(sizes.values()) > MOST_UNPACKED:
            raise refused("zip_bomb")
        self.sizes = sizes

    def whole(self, name: str, most: int) -> bytes:
        """A part that is read at once; empty where it is not there."""
        if self.sizes.get(name, 0) > most:
            raise refused("zip_bomb")
        return b"".join(self.chunks(name)) if name in self.sizes else b""

    def chunks(self, name: str) -> Iterator[bytes]:
        with _told(), self._archive.open(name) as part:
            while chunk := part.read(CHUNK):
                yield chunk


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except BROKEN as error:
        raise refused("not_workbook") from error
