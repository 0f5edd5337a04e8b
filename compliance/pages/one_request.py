"""One request for records: what is asked, what meets it, what is near and wrong, and what was handed over."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.models import Handing, RequestAnswer
from compliance.pages.near_places import near_said
from compliance.pages.register import titles_of
from compliance.pages.request_forms import CloseForm
from compliance.pages.requests import RequestsPage
from compliance.selectors import today_of
from compliance.services import request_near
from compliance.services.official_forms import FormOfPack, forms_for
from compliance.services.request_met import Met
from compliance.services.request_since import late_among, signed_since
from compliance.services.requests import close_request, time_of
from records import lacking
from records.bundle.entered import batched
from records.forms.register_search import search_in
from records.models import Treatment
from records.pages.seen import note_seen
from records.register_columns import METRIC, units_of
from records.register_search import COUNTED
from shared import clock

SHOWN = 10
MISSING = {
    lacking.LABEL: gettext_lazy("Facts of the label on the container"),
    lacking.LICENCE: gettext_lazy("A licence, valid that day, of who mixed or sprayed"),
    lacking.FIRM_LICENCE: gettext_lazy("A licence of your firm, valid that day"),
    lacking.COPY: gettext_lazy("Word that the customer has their copy"),
    lacking.SIGN: gettext_lazy("Word that the sign was taken down"),
}
MOST_ON_A_FORM = 100
"""Treatments on one paper from a page."""


class OneRequest(RequestsPage):
    """What is asked, the records that meet it, what is near and what is wrong."""

    template_name = "compliance/request.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.asked)
        return self._show(CloseForm())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Close it."""
        form = CloseForm(request.POST)
        if self.asked.closed_at:
            return redirect("request", asked=self.asked.pk)
        if not form.is_valid():
            return self._show(form, status=422)
        close_request(self.asked, request.user, form.cleaned_data["why"])
        messages.success(request, _("The request is closed. What was handed over stays with it."))
        return redirect("requests")

    def _show(self, form: CloseForm, status: int = 200) -> HttpResponse:
        asked = self.asked
        search = search_in(self.firm, asked.wanted, findings=True)
        rules = list(self.found.open_rules())
        titles = titles_of(self.firm, [each.rule for each in rules], self.language)
        return self.page(
            asked=asked,
            form=form,
            search=search,
            open=asked.closed_at is None,
            met=self._some(list(self.found.signed)),
            unsigned=self._some(self.found.unsigned),
            void=self._some(self.found.void),
            around=self._some(self.found.around),
            held=self._some(self.found.held),
            near=near_said(self.found, metric=units_of(self.firm) == METRIC),
            drafts=self._some(request_near.drafts_of_those_days(self.found)),
            correcting=self._some(self.found.correcting),
            missing=[(MISSING[each.kind], each.treatments) for each in request_near.missing_papers(self.found)],
            looked_at=request_near.LOOKED_AT,
            **self._since(),
            rules=[(each, titles[each.rule], self._found_by(each.rule)) for each in rules],
            forms=self._forms(),
            most_on_a_form=MOST_ON_A_FORM,
            handings=Handing.objects.for_firm(self.firm).filter(request=asked).select_related("by"),
            answers=self._answers(),
            time_set=time_of(asked),
            late=bool(asked.due_at and asked.due_at < clock.now() and not asked.closed_at),
            status=status,
        )

    def _held_by(self, form: FormOfPack) -> int | None:
        """How many lie in its place; None for more than stand on one paper."""
        count = 0
        for some in batched(self.found.signed):
            rows = Treatment.objects.for_firm(self.firm).filter(pk__in=some)
            count += form.holds_for(rows, self.firm).count()
            if count > MOST_ON_A_FORM:
                return None
        return count

    @cached_property
    def found(self) -> Met:
        return Met(self.asked)

    def _some(self, pks: list[UUID] | None) -> dict[str, Any] | None:
        """The first ones, and how many there are; None for more than a few."""
        if pks is None:
            return None
        return {"rows": self.found.shown(pks[:SHOWN]), "count": len(pks) if len(pks) <= COUNTED else None}

    def _answers(self) -> QuerySet[RequestAnswer]:
        answers = RequestAnswer.objects.for_firm(self.firm).filter(request=self.asked)
        return answers.select_related("by", "handing").prefetch_related("handing__links")

    def _since(self) -> dict[str, Any]:
        """What was signed after it came in, and which records fit only as they stood before."""
        since = signed_since(self.asked, late_among(self.asked, self.found.signed))
        found = {name: _listed(getattr(since, name)) for name in ("corrected", "first", "followed")}
        return {**found, "no_more": self.found.no_more}

    def _found_by(self, rule: str) -> str:
        """Where the register lists the records that are asked for of which this rule is open."""
        return f"{reverse('register')}?{urlencode({**self.asked.wanted, 'finding': rule})}"

    def _forms(self) -> list[tuple[str, str, int | None]]:
        """The forms on which authorities want copies of these records: name, title, and of how many."""
        found = [(each, self._held_by(each)) for each in forms_for(self.firm, today_of(self.firm))]
        return [(each.name, each.form.title.say(self.language), count) for each, count in found if count != 0]


def _listed(found: QuerySet[Any]) -> dict[str, Any]:
    """They are sorted by their ids alone: the rows are long."""
    pks = list(found.values_list("pk", flat=True))
    return {"rows": list(found.filter(pk__in=pks[:SHOWN])), "count": len(pks)}
