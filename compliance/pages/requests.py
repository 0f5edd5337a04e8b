"""Requests for records: who asks for what by when, what meets it, and what was handed over. For managers."""

from typing import Any
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.db.models import F
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from compliance.models import RecordsRequest
from compliance.pages.request_forms import RequestForm
from compliance.pages.sent_twice import key_of, new_key
from compliance.selectors import today_of
from compliance.services.requests import answer_duties, take_request
from records.forms.register_search import RegisterSearch, search_in
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from shared import clock

CLOSED = 50


class RequestsPage(FirmPage):
    permission = "records.hand_over"

    @cached_property
    def asked(self) -> RecordsRequest:
        """The firm's request of the address; Http404 where it has none of that id."""
        requests = RecordsRequest.objects.for_firm(self.firm).select_related("firm", "handled_by")
        return get_object_or_404(requests, pk=self.kwargs["asked"])


class Requests(RequestsPage):
    template_name = "compliance/requests.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        rows = RecordsRequest.objects.for_firm(self.firm)
        waiting = rows.filter(closed_at=None).order_by(F("due_at").asc(nulls_last=True), "received_at")
        closed = rows.exclude(closed_at=None).order_by("-closed_at")[:CLOSED]
        return self.page(waiting=waiting, closed=closed, now=clock.now())


class NewRequest(RequestsPage):
    """A request, for what the register was searched for in the address."""

    template_name = "compliance/new_request.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        if self._is_misread():
            return self._search_again()
        note_seen(request, self.firm)
        received = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).replace(tzinfo=None)
        return self._show(self._form(initial={"received_at": received}))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        if self._is_misread():
            return self._search_again()
        form = self._form(request.POST)
        if not form.is_valid():
            return self._show(form, status=422)
        given = {**form.cleaned_data, "wanted": self._search.wanted().as_json()}
        given["uuid"] = key_of(request, self.firm)
        chosen = given.pop("duty")
        duty = next((each for each in self._duties if each.key == chosen), None)
        made = take_request(self.firm, request.user, given, duty)
        return redirect("request", asked=made.pk)

    @cached_property
    def _search(self) -> RegisterSearch:
        return search_in(self.firm, self.request.GET, findings=True)

    def _is_misread(self) -> bool:
        """Whether something else would be found than is asked for."""
        return not self._search.is_whole()

    def _search_again(self) -> HttpResponse:
        messages.error(self.request, _("This search can't be understood. Search again."))
        return redirect(f"{reverse('register')}?{self.request.GET.urlencode()}")

    @cached_property
    def _duties(self) -> list[Any]:
        return answer_duties(self.firm, today_of(self.firm))

    def _form(self, *args: Any, **kwargs: Any) -> RequestForm:
        return RequestForm(self.firm, self._duties, self.language, *args, **kwargs)

    def _show(self, form: RequestForm, status: int = 200) -> HttpResponse:
        query = self.request.GET.urlencode()
        return self.page(form=form, search=self._search, query=query, key=new_key(self.request), status=status)


