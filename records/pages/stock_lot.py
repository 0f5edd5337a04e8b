"""One lot: its ledger, a place to write down what happened, and where it went."""

from collections.abc import Iterator
from contextlib import suppress
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from records.forms.stock import MoveForm, WhyForm
from records.models import AuditEntry, StockMove
from records.on_shelf import OnShelf
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen, note_taken
from records.pages.stock_said import (
    ledger_cells,
    ledger_names,
    recall_cells,
    recall_names,
    said_lines,
    said_off,
)
from records.recall import recall
from records.services.stock import NotNowError, explain, line_of, move_stock, set_aside, take_back
from records.stock import all_lots, differences_of, one_lot
from shared import clock
from shared.spreadsheet_cells import csv_lines

MOST = 100
CSV = "text/csv; charset=utf-8"


class OfALot(FirmPage):
    permission = "records.keep_stock"

    @cached_property
    def shelf(self) -> OnShelf:
        """The lot in the address; Http404 where the firm has none of that id."""
        return one_lot(get_object_or_404(all_lots(self.firm), pk=self.kwargs["lot"]))

    def move(self) -> StockMove:
        moves = StockMove.objects.for_firm(self.firm).filter(lot__in=self.shelf.story.rows)
        return get_object_or_404(moves.select_related("firm", "lot", "by"), pk=self.kwargs["move"])

    def file(self, name: str, names: list[str], rows: Iterator[list[str]]) -> StreamingHttpResponse:
        note_taken(self.request, self.firm, self.shelf.lot, AuditEntry.Kind.EXPORTED)
        answer = StreamingHttpResponse(csv_lines(names, rows), content_type=CSV)
        answer["Content-Disposition"] = f'attachment; filename="{name}.csv"'
        return answer

    def to_lot(self) -> HttpResponse:
        return redirect("stock_lot", lot=self.kwargs["lot"])


class StockLot(OfALot):
    template_name = "records/stock_lot.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.shelf.lot)
        return self._show(MoveForm(self.firm, unit=self.shelf.unit))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = MoveForm(self.firm, request.POST, unit=self.shelf.unit)
        write = partial(move_stock, self.shelf.lot, request.user)
        if not (form.is_valid() and form.written(write)):
            return self._show(form, status=422)
        messages.success(request, _("It is written down."))
        return self.to_lot()

    def _show(self, form: MoveForm, status: int = 200) -> HttpResponse:
        lines = said_lines(self.shelf)[::-1]
        return self.page(
            shelf=self.shelf,
            form=form,
            lines=lines[:MOST],
            more=max(0, len(lines) - MOST),
            differences=differences_of([self.shelf]),
            may_settle=self.may("records.settle_stock"),
            status=status,
        )


class StockLedger(OfALot):
    """All lines of the ledger as a file."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> StreamingHttpResponse:
        return self.file("ledger", ledger_names(), ledger_cells(self.shelf))


class Recalled(OfALot):
    """Where it went: the treatments that name it, with whom to call."""

    template_name = "records/stock_recall.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.shelf.lot)
        return self._show(WhyForm())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Set it aside."""
        form = WhyForm(request.POST)
        if not form.is_valid():
            return self._show(form, status=422)
        today = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        with suppress(NotNowError):  # somebody else did; the page shows who
            set_aside(self.shelf.lot, request.user, today, form.cleaned_data["why"])
        return redirect("stock_recall", lot=self.kwargs["lot"])

    def _show(self, form: WhyForm, status: int = 200) -> HttpResponse:
        return self.page(shelf=self.shelf, recall=recall(self.firm, self.shelf), form=form, status=status)


class RecallFile(OfALot):
    def get(self, request: HttpRequest, **_kwargs: Any) -> StreamingHttpResponse:
        went = recall(self.firm, self.shelf).all
        return self.file("recall", recall_names(), recall_cells(went))


class SaysWhy(OfALot):
    """A question with one box: why."""

    template_name = "records/stock_why.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        move = self.move()
        note_seen(request, self.firm, self.shelf.lot)
        return self.show(move, WhyForm(initial=self.initial(move)))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        move, form = self.move(), WhyForm(request.POST)
        if not form.is_valid():
            return self.show(move, form, status=422)
        try:
            self.do(move, form)
        except NotNowError:
            messages.error(request, _("Meanwhile it is otherwise: look at it again."))
        return self.to_lot()

    def show(self, move: StockMove, form: WhyForm, status: int = 200) -> HttpResponse:
        about = self.about(move)
        return self.page(shelf=self.shelf, move=move, form=form, status=status, **about)

    def initial(self, move: StockMove) -> dict[str, Any]:
        return {}

    def about(self, move: StockMove) -> dict[str, Any]:
        raise NotImplementedError

    def do(self, move: StockMove, form: WhyForm) -> None:
        raise NotImplementedError


class TakeBack(SaysWhy):
    """An entry was wrong."""

    def about(self, move: StockMove) -> dict[str, Any]:
        return {
            "title": _("Take this entry back"),
            "said": _("It stays to be seen and no longer counts. Then write down what is right."),
            "deed": _("Take it back"),
        }

    def do(self, move: StockMove, form: WhyForm) -> None:
        take_back(move, self.request.user, form.cleaned_data["why"])


class ExplainCount(SaysWhy):
    """What became of what is missing, or where the rest came from."""

    permission = "records.settle_stock"

    def initial(self, move: StockMove) -> dict[str, Any]:
        line = line_of(move)
        return {"off": str(line.off) if line else ""}

    def about(self, move: StockMove) -> dict[str, Any]:
        line = line_of(move)
        return {
            "differs": said_off(self.shelf, line.off if line else None),
            "title": _("Explain this difference"),
            "said": _("If something was spilled, disposed of or delivered, write that down instead."),
            "deed": _("Keep this explanation"),
        }

    def do(self, move: StockMove, form: WhyForm) -> None:
        explain(move, form.cleaned_data["off"], self.request.user, form.cleaned_data["why"])
