"""The records behind a figure of a report, and the report as PDF and CSV."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase

from compliance.pages.reports import OfFiled, OfReport
from compliance.papers import use_report
from compliance.reports.shown import csv_rows, parts_said, shown_table
from records.models import AuditEntry
from records.pages.seen import note_seen, note_taken
from shared.spreadsheet_cells import csv_lines
from shared.wording import LANGUAGES

BEHIND = 500


class Behind(OfReport):
    template_name = "compliance/report_behind.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        table, number = self.table(), kwargs["line"]
        if number >= len(table["lines"]):
            raise Http404("no such line")
        note_seen(request, self.firm, self.thing)
        shown, line = shown_table(self.content, table, self.language), table["lines"][number]
        parts = parts_said(self.content, line, self.language)
        return self.page(
            **self.addresses, content=self.content, table=shown, line=shown.lines[number], exact=line["exact"],
            parts=parts[:BEHIND], more=max(0, len(parts) - BEHIND), filed=self.filed,
        )  # fmt: skip


class ReportPaper(OfReport):
    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        language = kwargs["language"]
        if language not in LANGUAGES:
            raise Http404("no such language")
        note_taken(request, self.firm, self.thing, AuditEntry.Kind.PRINTED)
        filed = self.filed
        sent = use_report.Sent(filed.version, filed.sent_on, filed.how, filed.digest) if filed else None
        drawn = use_report.build(self.content, sent, language, self.firm.paper)
        answer = HttpResponse(drawn, content_type="application/pdf")
        answer["Content-Disposition"] = f'inline; filename="{self.file_name}-{language}.pdf"'
        return answer


class ReportCsv(OfReport):
    """One table, each line with its exact amount and the records behind it."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        table = self.table()
        note_taken(request, self.firm, self.thing, AuditEntry.Kind.EXPORTED)
        names, rows = csv_rows(self.content, table, self.language)
        answer = StreamingHttpResponse(csv_lines(names, rows), content_type="text/csv; charset=utf-8")
        answer["Content-Disposition"] = f'attachment; filename="{self.file_name}-{table["name"]}.csv"'
        return answer


class FiledBehind(OfFiled, Behind):
    """The records behind a figure that was filed."""


class FiledPaper(OfFiled, ReportPaper):
    """The paper of a filed report."""


class FiledCsv(OfFiled, ReportCsv):
    """A table of a filed report."""
