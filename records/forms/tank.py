"""A tank that was filled in the yard: from which rig, when, with what."""

from datetime import datetime
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext_lazy as _

from records.forms.choices import rows_of
from records.forms.dates import DayField
from records.forms.typed_quantity import TypedQuantityField
from records.models import Firm, Lot
from records.services.filling import FilledLine, Filling
from records.stock import lots_in_use
from shared import clock

MOST_PRODUCTS = 3
_AFTER = ("water", "volume")
LOTS = "lots"
"""The list of lots on the page, by its id."""


class TankForm(forms.Form):
    """One tank of the firm; what may be chosen are its own rows."""

    told = forms.CharField(max_length=40, widget=forms.HiddenInput)
    rig = forms.ModelChoiceField(None, required=False, label=_("Rig (optional)"), empty_label=_("Choose"))
    day = DayField(label=_("Day"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    time = forms.TimeField(label=_("Time"), widget=forms.TimeInput({"type": "time"}, format="%H:%M"))
    place = forms.CharField(max_length=200, required=False, label=_("Mixed where"))
    water = TypedQuantityField("volume", unit="gal", label=_("Amount of water"))
    volume = TypedQuantityField(
        "volume",
        unit="gal",
        required=False,
        label=_("Whole tank (optional)"),
        help_text=_("As read from the tank. Left empty it is products and water together."),
    )

    def __init__(self, firm: Firm, data: Any = None) -> None:
        super().__init__(data)
        self.firm, self.zone = firm, ZoneInfo(firm.time_zone)
        now = clock.now().astimezone(self.zone)
        self.initial = {"told": str(uuid4()), "day": now.date(), "time": now.time()}
        self.fields["rig"].queryset = rows_of("rigs", firm)
        for number in range(MOST_PRODUCTS):
            self._ask_for_product(number)
        self.order_fields([name for name in self.fields if name not in _AFTER] + list(_AFTER))

    def _ask_for_product(self, number: int) -> None:
        needed = number == 0
        names = rows_of("labels", self.firm)
        lot = forms.TextInput({"list": LOTS, "autocomplete": "off"})
        asked = {
            f"product_{number}": forms.ModelChoiceField(
                names, required=needed, label=_("Product"), empty_label=_("Choose")
            ),
            f"lot_{number}": forms.CharField(
                max_length=100, required=False, label=_("Lot number on the container"), widget=lot
            ),
            f"amount_{number}": TypedQuantityField(
                "volume", "mass", unit="gal", required=needed, label=_("Amount of product")
            ),
        }
        self.fields.update(asked)

    @property
    def before(self) -> dict[str, list[BoundField]]:
        return self._shown("rig", "day", "time", "place")

    @property
    def products(self) -> list[dict[str, list[BoundField]]]:
        return [self._shown(*_names(number)) for number in range(MOST_PRODUCTS)]

    @property
    def after(self) -> dict[str, list[BoundField]]:
        return self._shown(*_AFTER)

    @property
    def speaks_of_others(self) -> bool:
        """Whether something is said of the products after the first."""
        return any(_is_spoken_of(self[name]) for number in range(1, MOST_PRODUCTS) for name in _names(number))

    def _shown(self, *names: str) -> dict[str, list[BoundField]]:
        return {"visible_fields": [self[name] for name in names]}

    def lots(self) -> list[Lot]:
        return list(lots_in_use(self.firm))

    def clean(self) -> dict[str, Any]:
        given = super().clean() or {}
        for number in range(MOST_PRODUCTS):
            self._clean_product(given, *_names(number))
        if given.get("day") and given.get("time") and self._mixed_at(given) > clock.now():
            self.add_error("time", _("This time is still to come."))
        return given

    def _clean_product(self, given: dict[str, Any], product: str, lot: str, amount: str) -> None:
        """The lines after the first are left out whole, or filled in."""
        row, number = given.get(product), given.get(lot)
        if (number or given.get(amount)) and not row and product not in self.errors:
            self.add_error(product, _("Choose the product."))
        if row and not given.get(amount) and amount not in self.errors:
            self.add_error(amount, _("Enter how much of it went into the tank."))
        known = Lot.objects.for_firm(self.firm).filter(number=number) if row and number else Lot.objects.none()
        if known and all(each.label.product_id != row.pk for each in known):
            self.add_error(lot, _("This lot is of another product."))

    def _mixed_at(self, given: dict[str, Any]) -> datetime:
        return datetime.combine(given["day"], given["time"], self.zone)

    def filling(self) -> Filling:
        """The tank that was filled in; only of a valid form."""
        given = self.cleaned_data
        lines = [tuple(given[name] for name in _names(number)) for number in range(MOST_PRODUCTS)]
        return Filling(
            told=given["told"],
            mixed_at=self._mixed_at(given),
            place=given["place"],
            products=[FilledLine(product, lot, amount) for product, lot, amount in lines if product],
            water=given["water"],
            rig=given["rig"],
            volume=given["volume"],
        )


def _is_spoken_of(field: BoundField) -> bool:
    text = field.data[0] if isinstance(field.data, list) else field.data
    return bool(text or field.errors)


def _names(number: int) -> tuple[str, str, str]:
    return f"product_{number}", f"lot_{number}", f"amount_{number}"
