"""The texts that the cells of a workbook point to."""

from collections.abc import Iterable

from records.arriving.exact import LONGEST_CELL
from records.arriving.xml_stream import Stream, local
from records.imports.faults import refused

A_TAG = 25
"""What a tag counts for, whatever is in it: an empty text, which takes two, is 50 bytes of memory."""


class SharedStrings:
    """All of them, without the readings beside them. Raises FileError for more than `most` characters."""

    def __init__(self, chunks: Iterable[bytes], most: int) -> None:
        self.found: list[str] = []
        self._most, self._length = most, 0
        self._text: list[str] = []
        self._inside = {"t": False, "rPh": False}
        stream = Stream(self._start, self._end, self._characters)
        for chunk in chunks:
            stream.feed(chunk)
        stream.feed(b"", last=True)

    def _start(self, name: str, _attributes: dict[str, str]) -> None:
        self._count(A_TAG)
        if (bare := local(name)) in self._inside:
            self._inside[bare] = True

    def _end(self, name: str) -> None:
        bare = local(name)
        if bare in self._inside:
            self._inside[bare] = False
        elif bare == "si":
            self.found.append(" ".join("".join(self._text).split())[:LONGEST_CELL])
            self._text.clear()

    def _characters(self, piece: str) -> None:
        if self._inside["t"] and not self._inside["rPh"]:
            self._text.append(piece)
            self._count(len(piece))

    def _count(self, length: int) -> None:
        self._length += length
        if self._length > self._most:
            raise refused("zip_bomb")
