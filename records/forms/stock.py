"""What somebody writes down of the shelf: what came, went or was counted, and why."""

from collections.abc import Callable
from typing import Any, ClassVar
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as _

from records.forms.dates import DayField
from records.forms.typed_quantity import TypedQuantityField
from records.models import Firm, LabelVersion, StockMove
from records.services.stock import Move, ToldOtherwiseError
from records.services.stock_rules import faults, today_of

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
        self.firm = firm
        self.initial = {"told": str(uuid4()), "on": today_of(firm)}
        if unit:
            self.fields["amount"].widget.first_unit = unit
        self.order_fields([*self.first, *self.fields])

    def kind_of(self, said: dict[str, Any]) -> str | None:
        raise NotImplementedError

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        kind = self.kind_of(said)
        for name, fault in faults(self.firm, kind, said.get("amount"), said.get("on"), said.get("why", "")):
            self.add_error(name, fault)
        return said

    def entry(self) -> Move:
        raise NotImplementedError

    def written(self, write: Callable[[Move], StockMove]) -> StockMove | None:
        """None where this very form was sent before with other words; sent once more it is another entry."""
        try:
            return write(self.entry())
        except ToldOtherwiseError as error:
            there = error.there
        what = f"{there.get_kind_display()}, {there.amount.value} {there.amount.unit}"
        said = _("This form has written down: %(what)s. Look at the entries; send it again to add this one.")
        self.add_error(None, said % {"what": what})
        self.data = {**self.data.dict(), "told": str(uuid4())}
        return None

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

    def kind_of(self, said: dict[str, Any]) -> str | None:
        return said.get("kind")

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

    def kind_of(self, said: dict[str, Any]) -> str | None:
        return Kind.PURCHASE

    def entry(self) -> Move:
        return self.move(Kind.PURCHASE)


class WhyForm(forms.Form):
    """Why an entry is taken back, or what a difference was."""

    off = forms.CharField(max_length=100, required=False, widget=forms.HiddenInput)
    why = forms.CharField(max_length=500, label=_("Why"), widget=forms.Textarea({"rows": 3}))
