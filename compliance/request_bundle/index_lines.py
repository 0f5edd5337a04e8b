"""The lines of the index, kept on the disk while records go in, and read again in order of days."""

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from compliance.papers.record_index import Line
from compliance.papers.speech import address_line, joined
from compliance.request_bundle.folder import make_folder, opened
from compliance.request_bundle.worked_out import OfRecord
from records.document.types import Address

_NO_DAY = "9999"


class IndexLines:
    def __init__(self, folder: Path) -> None:
        make_folder(folder)
        self._file = opened(folder / "index-lines")
        self._order: list[tuple[str, str, int, int]] = []

    def __len__(self) -> int:
        return len(self._order)

    def add(self, record: OfRecord, files: tuple[str, ...]) -> None:
        at = self._file.seek(0, 2)
        day = record.day.isoformat() if record.day else ""
        self._order.append((day or _NO_DAY, record.number, record.version, at))
        said = {"state": record.state.partition(":")[0].partition(" ")[0], "day": day, "files": files}
        said |= {"site": site_said(record), "products": _products(record)}
        self._file.write(json.dumps(said).encode() + b"\n")

    def lines(self) -> Iterator[Line]:
        for _day, number, version, at in sorted(self._order):
            self._file.seek(at)
            said: dict[str, Any] = json.loads(self._file.readline())
            day = date.fromisoformat(said["day"]) if said["day"] else None
            files = tuple(said["files"])
            yield Line(number, version, said["state"], day, said["site"], said["products"], files)

    def span(self) -> tuple[date | None, date | None]:
        """The first and the last day."""
        days = sorted(day for day, *_rest in self._order if day != _NO_DAY)
        return (date.fromisoformat(days[0]), date.fromisoformat(days[-1])) if days else (None, None)

    def close(self) -> None:
        self._file.close()


def site_said(record: OfRecord) -> str | None:
    """Name and address, once where the place is named by it; None where the section is withheld."""
    site = record.file["sections"].get("site")
    if site is None:
        return None
    address = site.get("address") or {}
    name = (site.get("name") or "").removesuffix(address.get("line1") or "").rstrip(", ")
    return joined((name, address_line(Address.model_construct(**address))))


def _products(record: OfRecord) -> str | None:
    mixes = record.file["sections"].get("mixes")
    if mixes is None:
        return None
    lines = [line for mix in mixes for line in mix.get("products") or ()]
    said = (
        joined((line.get("name"), (number := line.get("registration_number")) and f"({number})"), " ")
        for line in lines
    )
    return "; ".join(dict.fromkeys(said))
