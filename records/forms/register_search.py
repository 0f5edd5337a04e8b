"""What a person may ask the register for. The filters only read the query; the search is made elsewhere."""

import re
from collections.abc import Iterator
from dataclasses import fields
from typing import Any, NamedTuple

import django_filters
from django import forms
from django.core.exceptions import ValidationError
from django.utils.formats import date_format
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.models import Firm, RegisterTerm, Treatment
from records.models.fields import word_choices
from records.register import terms
from records.register.orders import NEWEST, ORDERS, Order
from records.register.wanted import RegisterFilter
from records.spoken import place_name
from shared.folded import folded
from shared.orm.quantities import QuantityFormField
from shared.quantities import units_of

OUTCOMES = (
    ("met", _("Met")),
    ("not_met", _("Not met")),
    ("cant_tell", _("Can't tell")),
)
ORDER_WORDS = {
    "newest": _("Newest day first"),
    "oldest": _("Oldest day first"),
    "number": _("By number"),
    "customer": _("By customer"),
    "site": _("By site"),
    "wind": _("Strongest wind first, where a wind was read"),
}
GROUPS = (
    (_("When and where"), ("day_from", "day_to", "place", "county")),
    (_("For whom and by whom"), ("customer", "site", "applicator", "licence")),
    (_("With what"), ("product", "registration", "ingredient")),
    (_("What came of it"), ("state", "result", "outcome", "finding", "incident", "wind_least", "wind_most")),
)
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
LONGEST, MOST_WORDS = 300, 20
"""Of what is typed into a box."""
OF_FINDINGS = ("outcome", "finding")
"""What is not asked for by who sees no findings."""


class Group(NamedTuple):
    """Some of the boxes under a title of their own, as `project/fields.html` draws a form."""

    title: str | Promise
    visible_fields: list[forms.BoundField]


class _SpeedField(QuantityFormField):
    """A number alone is in the unit that the empty box shows."""

    def to_python(self, value: Any) -> Any:
        text = str(value or "").strip()
        return super().to_python(f"{text} {units_of('speed')[0]}" if _NUMBER.fullmatch(text) else value)


class _Speed(django_filters.Filter):
    field_class = _SpeedField


def _few_words(text: str) -> None:
    """Each is looked for by itself."""
    if len(folded(text).split()) > MOST_WORDS:
        raise ValidationError(_("At most %(most)d words."), params={"most": MOST_WORDS})


class _Words(django_filters.CharFilter):
    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_length=LONGEST, validators=[_few_words], **kwargs)


class _SearchForm(forms.Form):
    def clean(self) -> dict[str, Any]:
        given: dict[str, Any] = super().clean() or self.cleaned_data
        first, last = given.get("day_from"), given.get("day_to")
        if first and last and last < first:
            self.add_error("day_to", _("This is before the first day."))
        return given


def _words(words: str) -> Any:
    return lambda: word_choices(words)


class RegisterSearch(django_filters.FilterSet):
    words = _Words(
        label=_("Names and words"),
        help_text=_("Customer, site, street, county, product, applicator, licence; or the number of a record."),
    )
    order = django_filters.ChoiceFilter(label=_("Order"), choices=list(ORDER_WORDS.items()), empty_label=None)
    day_from = django_filters.DateFilter(label=_("From day"), widget=forms.DateInput({"type": "date"}))
    day_to = django_filters.DateFilter(label=_("To day"), widget=forms.DateInput({"type": "date"}))
    place = _Words(label=_("Where rules apply"))
    county = _Words(label=_("County"))
    customer = _Words(label=_("Customer"))
    site = _Words(label=_("Site"))
    applicator = _Words(label=_("Applicator"))
    licence = _Words(label=_("Licence number"))
    product = _Words(label=_("Product or registration number"))
    registration = _Words(label=_("Registration number alone"))
    ingredient = _Words(label=_("Active ingredient"))
    state = django_filters.ChoiceFilter(label=_("State"), choices=Treatment.State.choices, empty_label=_("Any"))
    result = django_filters.ChoiceFilter(label=_("Result"), choices=_words("result"), empty_label=_("Any"))
    outcome = django_filters.ChoiceFilter(
        label=_("Outcome of the check"), choices=OUTCOMES, empty_label=_("Any")
    )
    finding = _Words(label=_("Rule not met or not told"))
    incident = django_filters.ChoiceFilter(
        label=_("Incident"), choices=_words("incident_kind"), empty_label=_("Any")
    )
    wind_least = _Speed(label=_("Strongest wind at least"), dimension="speed")
    wind_most = _Speed(label=_("Strongest wind at most"), dimension="speed")

    class Meta:
        form = _SearchForm

    def wanted(self) -> RegisterFilter:
        """What is asked for; of a query that makes no sense nothing."""
        given = self.form.cleaned_data if self.is_valid() else {}
        asked = {each.name: given.get(each.name) for each in fields(RegisterFilter)}
        return RegisterFilter(**{name: value for name, value in asked.items() if value})

    def is_whole(self) -> bool:
        """Whether every part of the query is read, and its days can be: else something else would be found than
        is asked for."""
        wanted = self.wanted()
        in_order = not (wanted.day_from and wanted.day_to) or wanted.day_from <= wanted.day_to
        return self.is_valid() and in_order and not set(self.data) - set(self.base_filters)

    def said(self) -> Iterator[tuple[str, str]]:
        """What is asked for, as a person reads it: the name of each box and what is in it."""
        for name, written in self.wanted().as_json().items():
            field, value = self.form.fields[name], self.form.cleaned_data[name]
            choices = dict(getattr(field, "choices", ()))
            if name == "place":
                written = place_name(written)
            elif hasattr(value, "year"):
                written = date_format(value)
            yield str(field.label), str(choices.get(written, written))

    def order_of(self) -> Order:
        given = self.form.cleaned_data if self.is_valid() else {}
        return ORDERS.get(given.get("order", ""), NEWEST)

    def groups(self) -> Iterator[Group]:
        """The finer boxes, which are folded away at first."""
        for title, names in GROUPS:
            if shown := [self.form[name] for name in names if name in self.form.fields]:
                yield Group(title, shown)

    def finer(self) -> bool:
        """Whether one of the finer boxes is filled in, or holds what can't be read."""
        named = {name for _title, names in GROUPS for name in names}
        return bool(named & (set(self.wanted().as_json()) | set(self.form.errors)))


def search_in(firm: Firm, query: Any, *, findings: bool) -> RegisterSearch:
    """The search of a query; without `findings` nothing can be asked of them."""
    search = RegisterSearch(query, queryset=Treatment.objects.for_firm(firm).none())
    if not findings:
        for name in OF_FINDINGS:
            search.form.fields.pop(name)
    return search


def offer_places(search: RegisterSearch, firm: Firm) -> None:
    """The places of the firm's treatments to choose from, as their people call them."""
    codes = RegisterTerm.objects.for_firm(firm).filter(kind=terms.PLACE).values_list("written", flat=True)
    places = sorted((place_name(code), code) for code in codes)
    choices = [("", _("Any")), *((code, name) for name, code in places)]
    search.form.fields["place"].widget = forms.Select(choices=choices)
