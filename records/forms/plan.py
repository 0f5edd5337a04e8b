"""Planning a treatment: what, when, with what and by whom."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.document.words import WORD_LISTS
from records.forms.choices import rows_of
from records.forms.come_back import surfaces_left
from records.forms.dates import DayField
from records.forms.typed_quantity import TypedQuantityField
from records.models import Firm, Product, Site
from records.services.planning import Plan, PlannedProduct
from records.stock import lots_in_use
from shared import clock

A_YEAR = timedelta(days=366)
Json = Mapping[str, Any]


def _targets() -> list[tuple[str, str]]:
    language = (get_language() or "en")[:2]
    return [(word, wording.say(language)) for word, wording in WORD_LISTS["target"].items()]


def as_planned(document: Json) -> dict[str, Any]:
    """What an earlier treatment was planned with, as a form begins: without the surfaces that are done."""
    mixes = document.get("mixes") or []
    lines = [line.get("id") for mix in mixes for line in mix.get("products") or []]
    rigs = [each.get("id") for each in document.get("equipment") or []]
    return {
        "surfaces": [each.get("id") for each in surfaces_left(document)],
        "targets": document.get("targets") or [],
        "product": next(iter(lines), None),
        "rig": next(iter(rigs), None),
        "people": [each.get("id") for each in document.get("people") or []],
    }


class LotsByProduct(forms.Select):
    """Each lot says of which product it is, so that a script can leave out those of others."""

    def create_option(self, name: str, value: Any, *args: Any, **kwargs: Any) -> dict[str, Any]:
        option: dict[str, Any] = super().create_option(name, value, *args, **kwargs)
        if value:
            option["attrs"]["data-product"] = str(value.instance.label.product_id)
        return option


class PlanForm(forms.Form):
    """One treatment of `site`; what may be chosen are the firm's own rows."""

    surfaces = forms.ModelMultipleChoiceField(
        None, label=_("Surfaces to treat"), widget=forms.CheckboxSelectMultiple
    )
    targets = forms.MultipleChoiceField(
        choices=_targets,
        required=False,
        label=_("What is to be treated"),
        widget=forms.CheckboxSelectMultiple,
        initial=["moss"],
    )
    day = DayField(label=_("Day"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    time = forms.TimeField(label=_("Time"), widget=forms.TimeInput({"type": "time"}, format="%H:%M"))
    product = forms.ModelChoiceField(None, label=_("Product"), empty_label=_("Choose"))
    lot = forms.ModelChoiceField(
        None,
        required=False,
        widget=LotsByProduct({"data-of-product": "product"}),
        label=_("Lot on the container (optional)"),
        help_text=_("The label that was on that container is then used."),
        empty_label=_("Not known yet"),
    )
    amount = TypedQuantityField(
        "volume", "mass", unit="gal", required=False, label=_("Planned amount of product (optional)")
    )
    diluent = TypedQuantityField(
        "volume", unit="gal", required=False, label=_("Planned amount of water (optional)")
    )
    rig = forms.ModelChoiceField(None, label=_("Rig"), empty_label=_("Choose"))
    people = forms.ModelMultipleChoiceField(None, label=_("People"), widget=forms.CheckboxSelectMultiple)

    def __init__(self, site: Site, firm: Firm, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.site = site
        self.zone = ZoneInfo(site.time_zone or firm.time_zone)
        self.fields["day"].initial = clock.now().astimezone(self.zone).date()
        self.fields["surfaces"].queryset = site.surfaces.order_by("name")
        self.fields["product"].queryset = Product.objects.for_firm(firm).order_by("name")
        self.fields["lot"].queryset = lots_in_use(firm)
        self.fields["lot"].label_from_instance = lambda lot: f"{lot.label.product.name}: {lot.number}"
        self.fields["rig"].queryset = rows_of("rigs", firm)
        self.fields["people"].queryset = rows_of("people", firm)

    def clean(self) -> dict[str, Any]:
        given = super().clean() or {}
        lot, product = given.get("lot"), given.get("product")
        if lot and product and lot.label.product_id != product.pk:
            self.add_error("lot", _("This lot is of another product."))
        if given.get("day"):
            self._ask_about(given["day"])
        return given

    def _ask_about(self, day: date) -> None:
        """A day that is more than a year away is most often a slip: it is asked about, once."""
        today = clock.now().astimezone(self.zone).date()
        if abs(day - today) <= A_YEAR:
            return
        before = list(self.fields)
        self.fields["day_is_meant"] = forms.BooleanField(required=False, label=_("This day is meant"))
        self.order_fields([*before[: before.index("day") + 1], "day_is_meant"])
        if self.add_prefix("day_is_meant") not in self.data:
            self.add_error("day", _("This day is more than a year from today. If it is meant, say so below."))

    def plan(self) -> Plan:
        """The plan that was filled in; only of a valid form."""
        given = self.cleaned_data
        line = PlannedProduct(given["product"], given["lot"], given["amount"])
        return Plan(
            site=self.site,
            surfaces=list(given["surfaces"]),
            planned_at=datetime.combine(given["day"], given["time"], self.zone),
            people=list(given["people"]),
            products=[line],
            diluent=given["diluent"],
            rig=given["rig"],
            targets=given["targets"],
        )
