"""Spreadsheets of past years: sent in, said what they are, looked at, brought in, taken back."""

from io import BytesIO
from typing import Any

from django import forms
from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext_lazy as _

from records.arriving.sheets import MOST_MEGABYTES
from records.imports.faults import FileError
from records.models import ArrivalFile, ArrivedRow, AuditEntry
from records.pages.arrival_said import columns_of, doubts_of, kinds, makes_of, members_of, said_in
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen, note_taken
from records.services.bringing_in.files import NotNowError, keep_file, say
from records.services.bringing_in.turns import begin_look, begin_taking, begin_undo, drop, go_on
from records.services.bringing_in.undoing import count_made
from shared.spreadsheet_cells import csv_lines

MOST_FILES = 50
MOST_SHOWN = 50
State = ArrivalFile.State


class SpreadsheetForm(forms.Form):
    file = forms.FileField(
        label=_("Spreadsheet"),
        help_text=_(
            "CSV or XLSX, at most 20 MB and 100,000 rows. "
            "One kind of thing at a time; of a workbook you choose the sheet."
        ),
    )

    def clean_file(self) -> Any:
        file = self.cleaned_data["file"]
        if file.size > MOST_MEGABYTES * 1_000_000:
            raise forms.ValidationError(_("This file is too large: at most 20 MB."))
        return file


class BringIn(FirmPage):
    """The files so far, and a place to send another."""

    permission = "records.bring_in"
    template_name = "records/bring_in.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self._show(SpreadsheetForm())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = SpreadsheetForm(request.POST, request.FILES)
        if form.is_valid():
            sent = form.cleaned_data["file"]
            try:
                file = keep_file(sent.read(), sent.name, request.user, self.firm)
            except FileError as error:
                for fault in error.faults:
                    form.add_error("file", fault.say(self.language))
            else:
                return redirect("arrival", file=file.pk)
        return self._show(form, status=422)

    def _show(self, form: forms.Form, status: int = 200) -> HttpResponse:
        files = ArrivalFile.objects.for_firm(self.firm).select_related("by").defer("content", "preview")
        return self.page(status=status, form=form, files=files[:MOST_FILES])


class OfAFile(FirmPage):
    permission = "records.bring_in"

    def file(self) -> ArrivalFile:
        files = ArrivalFile.objects.for_firm(self.firm).select_related("firm", "by", "taken_by", "undone_by")
        return get_object_or_404(files.defer("content"), pk=self.kwargs["file"])

    def faulty(self, file: ArrivalFile) -> Any:
        return ArrivedRow.objects.for_firm(self.firm).filter(file=file).exclude(faults=[]).order_by("place")


class Arrival(OfAFile):
    """One file: what it is taken for, what is wrong, how far it is, what it brought in."""

    template_name = "records/arrival.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        file = self.file()
        note_seen(request, self.firm, file)
        rows = list(self.faulty(file)[:MOST_SHOWN]) if file.state == State.LOOKED else []
        same = ArrivalFile.objects.for_firm(self.firm).filter(sha256=file.sha256, state=State.TAKEN)
        return self.page(
            file=file,
            of={State.LOOKING: file.total, State.UNDOING: 0}.get(State(file.state), file.good)
            or self._made(file),
            before=same.exclude(pk=file.pk).defer("content").first(),
            faults=self._in_words(file.faults),
            rows=[fault for row in rows for fault in self._in_words(row.faults)],
            more=file.faulty - len(rows),
            doubts=doubts_of(file, self.language),
            kinds=kinds(),
            members=members_of(file, self.language),
            columns=columns_of(file, self.language),
            makes=makes_of(file),
        )

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        file, by, wants = self.file(), request.user, request.POST
        try:
            if "drop" in wants:
                drop(file, by)
                return redirect("bring_in")
            self._do(file, by, wants)
        except FileError as error:
            messages.error(request, error.faults[0].say(self.language))
        except NotNowError:
            pass  # somebody else did something with it; the page shows what
        return redirect("arrival", file=file.pk)

    def _do(self, file: ArrivalFile, by: Any, wants: Any) -> None:
        if "take" in wants or "take_good" in wants:
            begin_taking(file, by, good_alone="take_good" in wants)
        elif "undo" in wants:
            begin_undo(file, by)
        elif "go_on" in wants:
            go_on(file)
        else:
            said = said_in(wants)
            changes_shape = any(
                said.get(name, file.asked[name]) != file.asked[name] for name in ("kind", "sheet", "header_row")
            )
            say(file, said)
            if changes_shape:
                told = _("These are its columns now: look them over, then look at all rows.")
                messages.info(self.request, told)
            else:
                begin_look(file, by)

    def _in_words(self, faults: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return [{**fault, "words": fault[self.language]} for fault in faults]

    def _made(self, file: ArrivalFile) -> int:
        return count_made(file) if file.state == State.UNDOING else 0


class ArrivalOriginal(OfAFile):
    """The file as it came."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> FileResponse:
        file = self.file()
        note_taken(request, self.firm, file, AuditEntry.Kind.EXPORTED)
        answer = FileResponse(BytesIO(bytes(file.content)), as_attachment=True, filename=file.name)
        answer["Content-Type"] = "application/octet-stream"
        return answer


class ArrivalFaults(OfAFile):
    """All that is wrong, for who mends the spreadsheet."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> StreamingHttpResponse:
        file = self.file()
        note_taken(request, self.firm, file, AuditEntry.Kind.EXPORTED)
        names = [str(name) for name in (_("row"), _("column"), _("what stands there"), _("what is wrong"))]
        cells = (
            [str(fault["row"]), fault["column"], fault["got"], fault[self.language]]
            for faults in self.faulty(file).values_list("faults", flat=True).iterator()
            for fault in faults
        )
        answer = StreamingHttpResponse(csv_lines(names, cells), content_type="text/csv; charset=utf-8")
        answer["Content-Disposition"] = 'attachment; filename="faults.csv"'
        return answer
