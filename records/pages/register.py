"""The register: every treatment of the firm, searched and paged by key."""

from typing import Any
from uuid import UUID

import django_filters
from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy as _

from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.register.wanted import RegisterFilter
from records.register_search import page_after, treatments_of

PAGE = 25

OUTCOMES = (
    ("met", _("Met")),
    ("not_met", _("Not met")),
    ("cant_tell", _("Can't tell")),
)


class RegisterSearch(django_filters.FilterSet):
    """What a person may search by. The filters only read the query; the selector makes the search."""

    day_from = django_filters.DateFilter(label=_("From day"), widget=forms.DateInput({"type": "date"}))
    day_to = django_filters.DateFilter(label=_("To day"), widget=forms.DateInput({"type": "date"}))
    site = django_filters.CharFilter(label=_("Site"))
    customer = django_filters.CharFilter(label=_("Customer"))
    product = django_filters.CharFilter(label=_("Product or registration number"))
    applicator = django_filters.CharFilter(label=_("Applicator"))
    outcome = django_filters.ChoiceFilter(
        label=_("Outcome of the check"), choices=OUTCOMES, empty_label=_("Any")
    )
    state = django_filters.ChoiceFilter(
        label=_("State"), choices=Treatment.State.choices, empty_label=_("Any")
    )

    def wanted(self) -> RegisterFilter:
        given = {name: value for name, value in self.form.cleaned_data.items() if value}
        return RegisterFilter(**given)


class Register(FirmPage):
    template_name = "records/register.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        search = RegisterSearch(request.GET, queryset=Treatment.objects.for_firm(self.firm).none())
        if not self.may("records.view_draft"):
            search.form.fields.pop("outcome")
        wanted = search.wanted() if search.is_valid() else RegisterFilter()
        rows = list(page_after(self._treatments(wanted), self._last())[: PAGE + 1])
        query = request.GET.copy()
        query.pop("after", None)
        return self.page(
            search=search,
            treatments=rows[:PAGE],
            after=rows[PAGE - 1].pk if len(rows) > PAGE else None,
            query=query.urlencode(),
            searching=bool(query),
            first="after" not in request.GET,
            alarm=self.log_alarm(),
            may_hand_over=self.may("records.hand_over"),
        )

    def _treatments(self, wanted: RegisterFilter) -> QuerySet[Treatment]:
        return treatments_of(self.firm, wanted, drafts=self.may("records.view_draft"))

    def _last(self) -> Treatment | None:
        try:
            last = UUID(self.request.GET.get("after", ""))
        except ValueError:
            return None
        return Treatment.objects.for_firm(self.firm).filter(pk=last).first()
