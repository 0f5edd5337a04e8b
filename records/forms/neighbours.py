"""Forms about who lives near a site, and for the files that say it."""

from collections.abc import Mapping
from typing import Any, cast

from django import forms
from django.utils.translation import gettext_lazy as _

from records.forms.dates import DayField
from records.imports.cells import is_phone
from records.models import Firm, Neighbour, Occupant, PeopleFile, Site
from records.spoken import place_name
from shared.folded import sought
from shared.orm.quantities import QuantityFormField
from shared.quantities import Quantity
from shared.streets import folded_street

LARGEST = 20 * 1000 * 1000
ADDRESS = ("line1", "line2", "city", "region", "postcode", "country")
ANOTHER = "somebody_else"
REACH = "300 ft"
"""Covers the 100 yards and 150 ft that rules on file ask of neighbours."""


class OccupantForm(forms.ModelForm):
    class Meta:
        model = Occupant
        fields = ("name", *ADDRESS, "phone", "email", "language", "wishes_phone", "sensitive", "walk")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if ANOTHER in self.data:
            self._ask()

    def _ask(self) -> None:
        label = _("It is somebody else of the same name")
        self.fields[ANOTHER] = forms.BooleanField(label=label, required=False)

    def clean(self) -> dict[str, Any]:
        """The same name at the same address twice is asked about, where it was not so before."""
        said = cast(dict[str, Any], super().clean())
        mine = _who({**said})
        others = self._meta.model.objects.for_firm(self.instance.firm).filter(site=self.instance.site)
        rows = {row.pk: _who(vars(row)) for row in others}
        was_so = rows.pop(self.instance.pk, None) == mine
        if not was_so and mine in rows.values() and not said.get(ANOTHER):
            self._ask()
            raise forms.ValidationError(
                _("The same name at the same address is on the list already. If it is somebody else, tick so.")
            )
        return said

    def clean_phone(self) -> str:
        phone = str(self.cleaned_data["phone"])
        if phone and not is_phone(phone):
            raise forms.ValidationError(
                _("This is no phone number: 7 to 20 digits, with + ( ) - . or x between them.")
            )
        return phone

    def clean_line1(self) -> str:
        line1 = self.cleaned_data["line1"]
        if not line1:
            raise forms.ValidationError(_("Enter the street and number: that is where the notice goes."))
        return str(line1)


class NeighbourForm(OccupantForm):
    class Meta:
        model = Neighbour
        fields = (
            *("name", *ADDRESS, "distance", "abutting", "dwelling", "standing"),
            *("phone", "email", "language", "wishes_phone", "sensitive", "walk"),
        )
        help_texts = {
            "distance": _(
                "Between the nearest edges of both grounds, with its unit: 20 ft. Empty if not known."
            ),
            "abutting": _("Both grounds share a boundary. Across a street is not abutting."),
        }


def _who(said: Mapping[str, Any]) -> tuple[str, ...]:
    """What makes two rows one person at one door."""
    name, line1, line2, city = (str(said.get(each) or "") for each in ("name", "line1", "line2", "city"))
    return sought(name), folded_street(line1), sought(line2), sought(city)


class CompleteForm(forms.Form):
    """Somebody's word that the list is complete."""

    as_of = DayField(label=_("Complete as of"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    source = forms.CharField(
        label=_("How you know it (optional)"),
        max_length=200,
        required=False,
        help_text=_("For example: walked."),
    )


class FileForm(forms.Form):
    file = forms.FileField(label=_("File"))
    source = forms.CharField(
        label=_("Where it is from"),
        max_length=200,
        help_text=_("A newer file of the same source replaces this one. For example: county assessor."),
    )
    as_of = DayField(label=_("As of"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))

    def clean_file(self) -> Any:
        file = self.cleaned_data["file"]
        if file.size > LARGEST:
            raise forms.ValidationError(_("This file is too large: at most 20 MB."))
        return file


class SiteFileForm(FileForm):
    kind = forms.ChoiceField(
        label=_("What it holds"),
        choices=[
            (PeopleFile.Kind.NEIGHBOURS, _("Addresses, as a table (CSV)")),
            (PeopleFile.Kind.PARCELS, _("Shapes of parcels (GeoJSON)")),
        ],
        widget=forms.RadioSelect,
        initial=PeopleFile.Kind.NEIGHBOURS,
    )
    reach = QuantityFormField(
        dimension="length",
        label=_("Of parcels: list who is within"),
        initial=Quantity(*REACH.split(" ")),
        required=False,
        max_length=20,
    )
    field_order = ("kind", "file", "source", "as_of", "reach")

    def asked(self) -> dict[str, Any]:
        """What is said of the file, besides source and day."""
        if self.cleaned_data["kind"] != PeopleFile.Kind.PARCELS:
            return {}
        reach = self.cleaned_data["reach"] or Quantity(*REACH.split(" "))
        return {"metres": str(float(reach.base))}


class RegisterFileForm(FileForm):
    authority = forms.ChoiceField(label=_("Whose register"))
    name = forms.CharField(label=_("Name of the register"), max_length=200)
    field_order = ("authority", "name", "file", "source", "as_of")

    def __init__(self, firm: Firm, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        lists = Site.objects.for_firm(firm).values_list("jurisdictions", flat=True)
        places = sorted({*firm.jurisdictions, *(place for each in lists for place in each)})
        self.fields["authority"].choices = [(place, place_name(place)) for place in places]

    def asked(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("authority", "name")}
