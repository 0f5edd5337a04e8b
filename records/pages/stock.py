"""The shelf: what should be there of each lot, what does not add up, and what came."""

from itertools import groupby
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from records.forms.stock import DeliveryForm
from records.models import StockMove
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.stock import Move, take_delivery
from records.stock import differences_of, not_on_shelf, shelf

MOST, FEW = 20, 3


class Stock(FirmPage):
    permission = "records.keep_stock"
    template_name = "records/stock.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        lots = shelf(self.firm)
        there = [each for each in lots if not each.is_used_up]
        return self.page(
            differences=differences_of(lots),
            products=[(product, list(those)) for product, those in groupby(there, lambda each: each.product)],
            used_up=[each for each in lots if each.is_used_up],
            unlisted=[(*key, lines[:FEW]) for key, lines in not_on_shelf(self.firm).items()][:MOST],
            share=self.firm.stock_share.normalize(),
        )


class NewDelivery(FirmPage):
    permission = "records.keep_stock"
    template_name = "records/stock_delivery.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(form=DeliveryForm(self.firm))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = DeliveryForm(self.firm, request.POST)

        def write(move: Move) -> StockMove:
            label, number = form.cleaned_data["label"], form.cleaned_data["number"]
            return take_delivery(label, number, request.user, move)

        made = form.written(write) if form.is_valid() else None
        if made is None:
            return self.page(form=form, status=422)
        messages.success(request, _("It is on the shelf."))
        return redirect("stock_lot", lot=made.lot_id)
