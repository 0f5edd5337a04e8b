"""What a search of the register finds, as a file: CSV line by line, a workbook within a bound."""

from collections.abc import Iterator
from io import BytesIO
from typing import Any

from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render

from records.models import AuditEntry
from records.pages.register import RegisterPage, grouped
from records.pages.seen import note_taken
from records.register_columns import Cell, Column, as_text, columns
from records.services.audit import Thing
from records.workbooks import write_workbook
from shared import clock
from shared.spreadsheet_cells import csv_lines

AT_ONCE = 500
"""Rows that are read at a time."""
MOST_ROWS = 50_000
"""Of a workbook, which can't be sent before it is whole. CSV knows no bound."""
CSV = "text/csv; charset=utf-8"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


class RegisterFile(RegisterPage):
    """That it was taken out is an entry of its own. A search that makes no sense gives no file: all would be
    taken for what was searched for."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        unknown = set(request.GET) - set(self.search.base_filters)
        if unknown or not self.search.is_valid():
            return HttpResponse(status=400)
        return self.answer()

    def answer(self) -> HttpResponseBase:
        raise NotImplementedError

    def columns(self) -> list[Column]:
        return columns(self.firm, self.language, findings=self.may("records.view_draft"))

    def rows(self, shown: list[Column]) -> Iterator[list[Cell]]:
        found = self.found.iterator(chunk_size=AT_ONCE)
        return ([column.of(treatment) for column in shown] for treatment in found)

    def note(self) -> None:
        note_taken(self.request, self.firm, Thing("page", "register"), AuditEntry.Kind.EXPORTED)

    def name(self, ending: str) -> str:
        return f"register-{clock.now():%Y-%m-%d}.{ending}"


class RegisterCsv(RegisterFile):
    def answer(self) -> HttpResponseBase:
        self.note()
        shown = self.columns()
        lines = csv_lines([column.name for column in shown], map(as_text, self.rows(shown)))
        answer = StreamingHttpResponse(lines, content_type=CSV)
        answer["Content-Disposition"] = f'attachment; filename="{self.name("csv")}"'
        return answer


class RegisterWorkbook(RegisterFile):
    def answer(self) -> HttpResponseBase:
        if self.found.order_by()[: MOST_ROWS + 1].count() > MOST_ROWS:
            said = {"membership": self.membership, "most": grouped(MOST_ROWS), "query": self.query()}
            return render(self.request, "records/register_too_long.html", said, status=422)
        self.note()
        shown, out = self.columns(), BytesIO()
        write_workbook(out, [column.name for column in shown], self.rows(shown))
        answer = HttpResponse(out.getvalue(), content_type=XLSX)
        answer["Content-Disposition"] = f'attachment; filename="{self.name("xlsx")}"'
        return answer
