"""What lies in a bundle beside the records and their proof."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID

from compliance.models import Handing
from compliance.papers import record_index
from compliance.request_bundle import findings, notices_given
from compliance.request_bundle.changes import Changes
from compliance.request_bundle.folder import beside_of, make_folder, opened, sheets_of
from compliance.request_bundle.index_lines import IndexLines
from compliance.request_bundle.letter import cover_letter
from compliance.request_bundle.schemas import schemas
from compliance.request_bundle.still_named import Still, names_left_out, where_named
from compliance.request_bundle.table_files import TableFiles, as_csv, dictionary, line_of
from compliance.request_bundle.worked_out import OfRecord, label_name, label_of
from compliance.selectors import today_of
from compliance.services.drawn_sheets import drawn_sheet, sheet_name
from compliance.services.official_forms import form_files
from records.bundle.photos import photos_of
from records.bundle.writer import Content, as_bytes
from records.models import SignedRecord
from records.services.handing_over import left_out
from shared.digests import digest

Json = dict[str, Any]
Files = Iterator[tuple[str, Content]]
_SENT = "notices-sent.csv"


class Contents:
    """Of one handing: `beside` is asked for each record as it goes in, `after` once all are in.

    What grows with the number of records is kept on the disk.
    """

    def __init__(self, handing: Handing) -> None:
        self.handing = handing
        self.withheld = left_out(handing.withheld)
        self.still = Still()
        self.folder = beside_of(handing)
        self.tables = TableFiles(self.folder)
        self.index = IndexLines(self.folder)
        self.notices = opened(self.folder / _SENT)
        self.notices.writelines(as_csv([notices_given.NAMES]))
        self.names: set[str] = set()
        self.replaced = 0
        self.packs: dict[str, None] = {}
        self.places: dict[str, None] = {}

    def beside(self, record: SignedRecord, file: Json) -> Files:
        of = OfRecord(file)
        names = set(names_left_out(record.sections, self.withheld))
        self.still.add(where_named(names, file), str(record.treatment_id), record.version)
        self.names |= names
        self.replaced += of.state != "holds"
        self.tables.add(of)
        self.index.add(of, self._files_of(of))
        for language in self.handing.sheets:
            yield sheet_name(record, language), self._sheet(record, file, language)
        for each in (*self._labels(of), *self._notices(record, of), *self._findings(record, of, names)):
            self.places[each[0].partition("/")[0]] = None
            yield each
        if self.handing.photos and "photos" not in self.places and any(photos_of(record, file, self.withheld)):
            self.places["photos"] = None

    def after(self) -> Files:
        """Letter and index last: they tell what is in it. Of no record there is nothing to tabulate."""
        if self.handing.treatments:
            yield from self._of_records()
        changes = Changes(self.handing)
        if self.handing.since:
            yield "changes.csv", as_csv(changes.lines())
        if self.handing.treatments:
            yield "index.pdf", self._index()
        changed, places = changes.counted, self._places()
        yield (
            "cover-letter.pdf",
            cover_letter(self.handing, self.index, self.replaced, changed, self.names, places),
        )

    def _of_records(self) -> Files:
        yield from self.tables.done()
        self.notices.close()
        yield f"tables/{_SENT}", self.folder / _SENT
        yield "tables/README.csv", as_csv(dictionary())
        yield from ((name, as_bytes(schema)) for name, schema in schemas())
        yield from findings.packs_as_they_stood(list(self.packs))
        for form in self._forms():
            self.places["forms"] = None
            yield form

    def close(self) -> None:
        self.tables.close()
        self.notices.close()
        self.index.close()

    def _sheet(self, record: SignedRecord, file: Json, language: str) -> Path:
        """Drawn once for the very data that are in it, also over several turns."""
        path = sheets_of(self.handing) / f"{digest(as_bytes(file)).removeprefix('sha256:')}-{language}"
        if not path.exists():
            make_folder(path.parent)
            half = path.with_suffix(".part")
            with opened(half) as out:
                out.write(drawn_sheet(record, file, language))
            half.replace(path)
        return path

    def _files_of(self, of: OfRecord) -> tuple[str, ...]:
        sheets = (f"sheets/{of.name}-{language}.pdf" for language in self.handing.sheets)
        return (f"records/{of.name}.json", *sheets)

    def _labels(self, of: OfRecord) -> Files:
        for mix in of.file["sections"].get("mixes") or ():
            for line in mix.get("products") or ():
                if name := label_name(line):
                    yield name, as_bytes(label_of(line))

    def _notices(self, record: SignedRecord, of: OfRecord) -> Files:
        """With the first version: they are of the treatment."""
        if of.version != 1:
            return
        for notice, cells in notices_given.notices_of(of, record.treatment, self.withheld):
            self.notices.write(line_of(cells))
            if notice.to in notices_given.WITH_WORDS and notice.text:
                yield notices_given.file_name(of, notice), notices_given.words_of(notice)

    def _findings(self, record: SignedRecord, of: OfRecord, names: set[str]) -> Files:
        if not self.handing.findings:
            return
        found, packs = findings.findings_of(record, of, names)
        if found:
            self.packs |= dict.fromkeys(pack["digest"] for pack in packs if pack.get("digest"))
            yield f"findings/{of.name}.json", as_bytes(found)

    def _forms(self) -> Files:
        """On the forms of the authorities where the firm works, for whom a law names them."""
        handing = self.handing
        if handing.request.asked_by == handing.request.Asker.REGULATOR:
            what = {"withheld": self.withheld, "authority": handing.to, "asked_at": handing.request.received_at,
                    "log_size": handing.log_size}  # fmt: skip
            treatments = [UUID(each) for each in handing.treatments]
            yield from form_files(handing.firm, treatments, [handing.language], today_of(handing.firm), **what)

    def _index(self) -> Path:
        path, firm = self.folder / "index.pdf", self.handing.firm
        with opened(path) as out:
            of = (len(self.index), firm.name, self.handing.language, firm.paper)
            record_index.draw(out, self.index.lines, *of)
        return path

    def _places(self) -> tuple[str, ...]:
        """What lies in it, in the order of the letter."""
        handing, there = self.handing, self.places
        some = bool(handing.treatments)
        found = {
            "index.pdf": some, "sheets": bool(handing.sheets), "records": some, "tables": some,
            "labels": "labels" in there, "notices": "notices" in there, "photos": "photos" in there,
            "findings": "findings" in there, "forms": "forms" in there,
            "changes.csv": handing.since is not None, "log.json": True,
        }  # fmt: skip
        return tuple(name for name, is_there in found.items() if is_there)
