"""What lies in a bundle beside the records and their proof."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from compliance.models import Handing
from compliance.request_bundle.folder import make_folder, opened, sheets_of
from compliance.services.drawn_sheets import drawn_sheet, sheet_name
from records.bundle.writer import Content, as_bytes
from records.models import SignedRecord
from shared.digests import digest

Json = dict[str, Any]


class Contents:
    """Of one handing: `beside` is asked for each record as it goes in, `after` once all are in."""

    def __init__(self, handing: Handing) -> None:
        self.handing = handing
        self.named_still: Json = {}
        self._sheets = sheets_of(handing)

    def beside(self, record: SignedRecord, file: Json) -> Iterator[tuple[str, Content]]:
        for language in self.handing.sheets:
            yield sheet_name(record, language), self._sheet(record, file, language)

    def after(self) -> Iterator[tuple[str, Content]]:
        yield from ()

    def _sheet(self, record: SignedRecord, file: Json, language: str) -> Path:
        """Drawn once for the very data that are in it, also over several turns."""
        path = self._sheets / f"{digest(as_bytes(file)).removeprefix('sha256:')}-{language}"
        if not path.exists():
            make_folder(path.parent)
            half = path.with_suffix(".part")
            with opened(half) as out:
                out.write(drawn_sheet(record, file, language))
            half.replace(path)
        return path
