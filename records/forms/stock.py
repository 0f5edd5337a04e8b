"""What somebody writes down of the shelf: what came, went or was counted, and why."""

from typing import Any, ClassVar
from uuid import uuid4
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from records.forms.dates import DayField
from records.forms.typed_quantity import TypedQuantityField
from records.models import Firm, LabelVersion, StockMove
from records.services.stock import Move
from shared import clock

Kind = StockMove.Kind
BEFORE, AFTER = "before", "after"


class EntryForm(forms.Form):
    """What every entry has: an amount, a day and words. A day that is not there yet is refused."""

    told = forms.CharField(max_length=40, widget=forms.HiddenInput)
    amount = TypedQuantityField("volume", "mass", unit="gal", label=_("Amount"))
    on = DayField(label=_("Day"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    why = forms.CharField(max_length=500, required=False, label=_("From whom, where to, or why"))
    first: ClassVar[tuple[str, ...]] = ()

    def __init__(self, firm: Firm, data: Any = None, unit: str = "") -> None:
        super().__init__(data)
        self.today = clock.now().astimezone(ZoneInfo(firm.time_zone)).date()
        self.initial = {"told": str(uuid4()), "on": self.today}
        if unit:
            self.fields["amount"].widget.first_unit = unit
        self.order_fields([*self.first, *self.fields])

    def clean_on(self) -> Any:
        day = self.cleaned_data["on"]
        if day > self.today:
            raise ValidationError(_("This day is still to come."))
        return day

    def move(self, kind: str, early: bool = False) -> Move:
        said = {name: self.cleaned_data[name] for name in ("told", "amount", "on", "why")}
        return Move(kind=kind, early=early, **said)


class MoveForm(EntryForm):
    """An entry of a lot that is there."""

    first = ("kind", "amount", "on", "when")
    kind = forms.ChoiceField(
        label=_("What happened"),
        choices=[(kind.value, kind.label) for kind in (Kind.COUNT, Kind.PURCHASE, Kind.DISPOSAL, Kind.RETURN)],
    )
    when = forms.ChoiceField(
        label=_("If it was counted: when on that day"),
        choices=[(AFTER, _("After the day's work")), (BEFORE, _("Before the day's work"))],
        initial=AFTER,
        required=False,
    )

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        if said.get("kind") in (Kind.DISPOSAL, Kind.RETURN) and not said.get("why"):
            self.add_error("why", _("Say where it went or why."))
        amount = said.get("amount")
        if said.get("kind") != Kind.COUNT and amount and not amount.base:
            self.add_error("amount", _("Nothing is nothing to write down. A count may be 0."))
        return said

    def entry(self) -> Move:
        return self.move(self.cleaned_data["kind"], self.cleaned_data["when"] == BEFORE)


class DeliveryForm(EntryForm):
    """What came, of a lot that may be new."""

    first = ("label", "number", "amount", "on")
    label = forms.ModelChoiceField(
        None,
        label=_("Product and its label"),
        empty_label=_("Choose"),
        help_text=_("The version that is printed on these containers."),
    )
    number = forms.CharField(max_length=100, label=_("Lot number on the container"))

    def __init__(self, firm: Firm, data: Any = None) -> None:
        super().__init__(firm, data)
        labels = LabelVersion.objects.for_firm(firm).select_related("product")
        self.fields["label"].queryset = labels.order_by("product__name", "-valid_from")
        self.fields["why"].label = _("From whom, and the number of the paper")

    def clean_amount(self) -> Any:
        amount = self.cleaned_data["amount"]
        if not amount.base:
            raise ValidationError(_("Nothing is nothing to write down. A count may be 0."))
        return amount

    def entry(self) -> Move:
        return self.move(Kind.PURCHASE)


class WhyForm(forms.Form):
    """Why an entry is taken back, or what a difference was."""

    off = forms.CharField(max_length=100, required=False, widget=forms.HiddenInput)
    why = forms.CharField(max_length=500, label=_("Why"), widget=forms.Textarea({"rows": 3}))
