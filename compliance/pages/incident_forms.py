"""What a person enters of an incident."""

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import get_language, gettext_lazy
from django.utils.translation import gettext as _

from compliance.pages.time_fields import FirmTimeField
from records.incidents.reached import REACHED
from records.models import Incident, IncidentEntry, Product, Treatment
from records.models.fields import word_choices
from shared import clock
from shared.orm.quantities import QuantityFormField

LATELY = timedelta(days=45)
MOST = 60
SLACK = timedelta(minutes=5)
"""By so much a phone's clock may be ahead."""


def _lines(rows: int, most: int = 4000, **said: Any) -> forms.CharField:
    widget = forms.Textarea({"rows": rows})
    return forms.CharField(max_length=most, required=False, widget=widget, **said)


class InZone(forms.Form):
    """A form whose times are on the clock of where it happened, and lie behind us."""

    def __init__(self, incident: Incident, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, FirmTimeField):
                field.zone = ZoneInfo(incident.time_zone)

    def past(self, name: str) -> datetime:
        at: datetime = self.cleaned_data[name]
        if at > clock.now() + SLACK:
            raise ValidationError(_("This is still to come."))
        return at


class FactsForm(InZone):
    kind = forms.ChoiceField(label=gettext_lazy("What it was"), choices=lambda: word_choices("incident_kind"))
    happened_at = FirmTimeField(label=gettext_lazy("When it happened"))
    known_at = FirmTimeField(
        label=gettext_lazy("When your firm knew of it"),
        help_text=gettext_lazy("The time to report it runs from here."),
    )
    treatment = forms.ChoiceField(label=gettext_lazy("At which treatment"), required=False)
    place = forms.CharField(
        label=gettext_lazy("Where"),
        max_length=300,
        required=False,
        help_text=gettext_lazy("For example: behind the garage; in the store; on the road at the bridge."),
    )
    description = _lines(4, label=gettext_lazy("What happened"))
    product = forms.ChoiceField(label=gettext_lazy("Which product"), required=False)
    amount = QuantityFormField(
        label=gettext_lazy("How much got out"),
        dimension=("volume", "mass"),
        required=False,
        help_text=gettext_lazy("With its unit: 2 gal. Leave it empty while nobody knows."),
    )
    reached = forms.MultipleChoiceField(
        label=gettext_lazy("How far it got"),
        choices=lambda: [(word, said.say((get_language() or "en")[:2])) for word, said in REACHED.items()],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    affected = _lines(
        2,
        2000,
        label=gettext_lazy("Who or what was affected, and how"),
        help_text=gettext_lazy("Without names: a worker, a neighbour's dog, the hedge."),
    )
    names = _lines(
        2,
        2000,
        label=gettext_lazy("Names, and how to reach them"),
        help_text=gettext_lazy("The report leaves this out unless you ask for it."),
    )
    action = _lines(3, label=gettext_lazy("What was done about it"))

    def __init__(self, incident: Incident, *args: Any, **kwargs: Any) -> None:
        super().__init__(incident, *args, **kwargs)
        self.incident = incident
        products = Product.objects.for_firm(incident.firm)
        self._products = {str(each.pk): each for each in products}
        self._choose("product", [(key, each.name) for key, each in self._products.items()])
        if incident.item or incident.follow_up_id:
            del self.fields["treatment"]
            return
        self._treatments = {str(each.pk): each for each in recent_treatments(incident)}
        said = [(key, f"{each.number}, {each.site_name}") for key, each in self._treatments.items()]
        self._choose("treatment", said)

    def _choose(self, name: str, choices: list[tuple[str, str]]) -> None:
        none = _("None of these")
        self.fields[name].choices = [("", none), *choices]  # type: ignore[attr-defined]

    def clean_happened_at(self) -> datetime:
        return self.past("happened_at")

    def clean_known_at(self) -> datetime:
        return self.past("known_at")

    def clean_treatment(self) -> Treatment | None:
        return self._treatments.get(self.cleaned_data["treatment"])

    def clean_product(self) -> Product | None:
        return self._products.get(self.cleaned_data["product"])

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        happened, known = given.get("happened_at"), given.get("known_at")
        if happened and known and known < happened:
            self.add_error("known_at", _("This is before it happened."))
        return given


def recent_treatments(incident: Incident) -> list[Treatment]:
    """Those around the day of the incident, the nearest first, and its own."""
    day = incident.happened_at.date()
    rows = Treatment.objects.for_firm(incident.firm).exclude(
        state__in=(Treatment.State.VOID, Treatment.State.BROUGHT_IN)
    )
    around = rows.filter(day__range=(day - LATELY, day + timedelta(days=1))).order_by("-day", "-uuid")
    found = list(around[:MOST])
    if incident.treatment and incident.treatment not in found:
        found.append(incident.treatment)
    return found


class ToldForm(InZone):
    """That somebody was told, or that it is not owed."""

    kind = forms.ChoiceField(
        label=gettext_lazy("Were they told?"),
        choices=[
            (IncidentEntry.Kind.TOLD, gettext_lazy("They were told")),
            (IncidentEntry.Kind.NOT_OWED, gettext_lazy("They need not be told")),
        ],
        widget=forms.RadioSelect,
        initial=IncidentEntry.Kind.TOLD,
    )
    to = forms.CharField(label=gettext_lazy("Who was told, by name and office"), max_length=200, required=False)
    at = FirmTimeField(label=gettext_lazy("When"))
    how = forms.CharField(
        label=gettext_lazy("How"),
        max_length=100,
        required=False,
        help_text=gettext_lazy("For example: by phone, by e-mail, on their page."),
    )
    number = forms.CharField(label=gettext_lazy("Their number for it"), max_length=100, required=False)
    text = _lines(
        3,
        label=gettext_lazy("What was said, or why they need not be told"),
    )

    def clean_at(self) -> datetime:
        return self.past("at")

    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        told = given.get("kind", IncidentEntry.Kind.TOLD) == IncidentEntry.Kind.TOLD
        if told and not given.get("to"):
            self.add_error("to", _("Say who was told."))
        if not told and not given.get("text"):
            self.add_error("text", _("Say why they need not be told."))
        return given


class NoteForm(InZone):
    at = FirmTimeField(label=gettext_lazy("When"))
    text = forms.CharField(
        label=gettext_lazy("What was done or said"), max_length=4000, widget=forms.Textarea({"rows": 3})
    )

    def clean_at(self) -> datetime:
        return self.past("at")


class WhyForm(forms.Form):
    why = forms.CharField(
        label=gettext_lazy("How it ended, and what keeps it from happening again"),
        max_length=4000,
        widget=forms.Textarea({"rows": 3}),
    )


class AgainForm(forms.Form):
    why = forms.CharField(
        label=gettext_lazy("Why it is opened again"), max_length=4000, widget=forms.Textarea({"rows": 2})
    )
