"""The mixing calculator's form."""

from typing import Any

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.forms.typed_quantity import TypedQuantityField
from records.mixing import MixError, MixPlan, plan_mix


class MixForm(forms.Form):
    area = TypedQuantityField("area", unit="ft**2", label=_("Area to treat"))
    coverage = TypedQuantityField(
        "volume_per_area",
        unit="gal/(100 ft**2)",
        label=_("Coverage"),
        help_text=_("Finished mix for each area, as the label states it."),
    )
    dilution = forms.CharField(
        max_length=200,
        label=_("Dilution"),
        help_text=_(
            "As the label states it: 1:15 (1 + 15 parts), 1 in 10 (of the total), 5 %, 3 lb/(100 gal), "
            "8 fl_oz/gal of water, or 0.5 % active from 12.5 % active. With the density: 5 % by weight."
        ),
        widget=forms.TextInput({"autocomplete": "off"}),
    )
    tank = TypedQuantityField("volume", unit="gal", required=False, label=_("Tank (optional)"))
    flow = TypedQuantityField("flow", unit="gal/min", required=False, label=_("Flow of the rig (optional)"))
    density = TypedQuantityField(
        "density",
        unit="lb/gal",
        required=False,
        label=_("Density of the product (optional)"),
        help_text=_("Only for a percent by weight."),
    )

    plan: MixPlan | None = None

    def clean(self) -> dict[str, Any]:
        given = super().clean() or {}
        if not self.errors:
            try:
                self.plan = plan_mix(**{name: given[name] for name in self.fields})
            except MixError as error:
                self.add_error(error.field, error.say(get_language() or "en"))
        return given
