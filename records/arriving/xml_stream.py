"""XML as it streams by, without a document type: no entity of a file's own is ever read."""

from xml.parsers import expat

from records.imports.faults import FileError, refused

LONGEST_TAG = 256 * 1024
"""Bytes of a tag or remark that has not ended. An older expat goes through all of it anew with every chunk: its
time would grow with the square (CVE-2023-52425)."""


def local(name: str) -> str:
    return name.rpartition(":")[2]


class Stream:
    """Refuses a document type, and with it every entity of a file's own, and what does not end."""

    def __init__(self, start: object, end: object, characters: object) -> None:
        self._parser = parser = expat.ParserCreate()
        parser.buffer_text = True
        parser.StartElementHandler, parser.EndElementHandler = start, end  # type: ignore[assignment]
        parser.CharacterDataHandler = characters  # type: ignore[assignment]
        parser.StartDoctypeDeclHandler = _no_document_type
        self._fed = 0

    def feed(self, chunk: bytes, last: bool = False) -> None:
        """Raises FileError."""
        self._fed += len(chunk)
        try:
            self._parser.Parse(chunk, last)
        except FileError:
            raise
        except (expat.ExpatError, ValueError, OverflowError) as error:
            raise refused("not_workbook") from error
        if self._fed - self._parser.CurrentByteIndex > LONGEST_TAG:
            raise refused("zip_bomb")


def _no_document_type(*_given: object) -> None:
    raise refused("not_workbook")
