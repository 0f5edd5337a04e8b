"""Papers of a signed version, drawn from the record and its stored check."""

from collections.abc import Sequence
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase

from compliance.models import StoredCheck
from compliance.pages.treatment import signed_check
from compliance.papers import check_sheet
from compliance.services.drawn_sheets import drawn_sheet, sheets_beside
from records.bundle.writer import Beside
from records.document.record_file import read_record_file
from records.models import AuditEntry, SignedRecord
from records.pages.firm_page import FirmPage
from records.pages.hand_over import HandOver, HandOverOne
from records.pages.seen import note_taken
from records.record_files import record_file
from records.selectors import signed_record_of
from shared.wording import LANGUAGES


class _WithSheets:
    def sheets(self, languages: Sequence[str]) -> Beside:
        return sheets_beside(languages)


class SheetsHandedOver(_WithSheets, HandOver):
    """The hand-over of several records, with their sheets."""


class SheetHandedOver(_WithSheets, HandOverOne):
    """The hand-over of one record, with its sheets."""


class Paper(FirmPage):
    """One paper as PDF, in the language of the address."""

    name: str

    def draw(self, record: SignedRecord, check: StoredCheck | None, language: str) -> bytes:
        raise NotImplementedError

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        if kwargs["language"] not in LANGUAGES:
            raise Http404("no such language")
        record = signed_record_of(self.firm, kwargs["uuid"], kwargs["version"])
        note_taken(request, self.firm, record, AuditEntry.Kind.PRINTED)
        pdf = self.draw(record, signed_check(record), kwargs["language"])
        answer = HttpResponse(pdf, content_type="application/pdf")
        name = f"{record.treatment.number}-{record.version}-{self.name}-{kwargs['language']}.pdf"
        answer["Content-Disposition"] = f'inline; filename="{name}"'
        return answer


class RecordSheet(Paper):
    """The paper of facts; it leaves the firm, so it is signed as a file and carries the record as data."""

    name = "record-sheet"

    def draw(self, record: SignedRecord, check: StoredCheck | None, language: str) -> bytes:
        file = record_file(record, check.stored if check else None, with_log=False)
        return drawn_sheet(record, file, language)


class CheckSheet(Paper):
    permission = "compliance.view_checks"
    name = "check-sheet"

    def draw(self, record: SignedRecord, check: StoredCheck | None, language: str) -> bytes:
        if check is None:
            raise Http404("no check was stored for this version")
        file = read_record_file(record_file(record, check.stored))
        subject = check_sheet.subject_of(file.document, file)
        return check_sheet.build(check_sheet.stored_check_of(file), subject, language, self.firm.paper)
