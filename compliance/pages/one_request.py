"""One request for records: what is asked, what meets it, what is near and wrong, and what was handed over."""

from typing import Any

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from compliance.models import Handing, RequestAnswer
from compliance.pages.before_answering import RequestMet
from compliance.pages.request_forms import CloseForm
from compliance.selectors import today_of
from compliance.services.official_forms import FormOfPack, forms_for
from compliance.services.requests import close_request, time_of
from records.bundle.entered import batched
from records.forms.register_search import search_in
from records.models import Treatment
from records.pages.seen import note_seen
from shared import clock

MOST_ON_A_FORM = 100
"""Treatments on one paper from a page."""
MANY = 1_000
"""Of more records that fit, what is near and what is wrong comes after them."""


class OneRequest(RequestMet):
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
        later = len(self.found.signed) > MANY and "whole" not in self.request.GET
        return self.page(
            asked=asked,
            form=form,
            search=search,
            open=asked.closed_at is None,
            later=later,
            **({"met": self.some(list(self.found.signed))} if later else self.to_look_at()),
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

    def _answers(self) -> QuerySet[RequestAnswer]:
        answers = RequestAnswer.objects.for_firm(self.firm).filter(request=self.asked)
        return answers.select_related("by", "handing").prefetch_related("handing__links")

    def _forms(self) -> list[tuple[str, str, int | None]]:
        """The forms on which authorities want copies of these records: name, title, and of how many."""
        found = [(each, self._held_by(each)) for each in forms_for(self.firm, today_of(self.firm))]
        return [(each.name, each.form.title.say(self.language), count) for each, count in found if count != 0]
