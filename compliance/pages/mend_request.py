"""Put right what was taken in of a request for records, or give it to somebody else."""

from typing import Any
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from compliance.pages.request_forms import MendRequestForm
from compliance.pages.requests import RequestsPage
from compliance.pages.written_since import SEEN, changed_alone, seen_again, seen_in
from compliance.selectors import today_of
from compliance.services.requests import AnswerDuty, answer_duties, mend_request
from records.pages.seen import note_seen

AS_STORED = ("asked_by", "name", "contact", "reference", "means", "asked_for", "duty", "handled_by")


class MendRequest(RequestsPage):
    template_name = "compliance/mend_request.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        self._refuse_closed()
        note_seen(request, self.firm, self.asked)
        return self._show(stored := self._stored(), seen_in(stored))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        self._refuse_closed()
        form = MendRequestForm(self.asked, self._duties, self.language, request.POST)
        stored, seen = self._stored(), request.POST.get(SEEN, "")
        changed = changed_alone(form, stored, seen) if form.is_valid() else set()
        if form.errors:
            return self._show(form, seen_again(form, stored, seen), status=422)
        mend_request(self.asked, request.user, {name: form.cleaned_data[name] for name in changed})
        messages.success(request, _("Kept."))
        return redirect("request", asked=self.asked.pk)

    @cached_property
    def _duties(self) -> list[AnswerDuty]:
        return answer_duties(self.firm, today_of(self.firm))

    def _stored(self) -> MendRequestForm:
        asked, zone = self.asked, ZoneInfo(self.firm.time_zone)
        known: dict[str, Any] = {name: getattr(asked, name) for name in AS_STORED}
        known["handled_by"] = asked.handled_by_id
        for name, at in (("received_at", asked.received_at), ("due_at", asked.they_set)):
            known[name] = at and at.astimezone(zone).replace(tzinfo=None)
        return MendRequestForm(asked, self._duties, self.language, initial=known)

    def _refuse_closed(self) -> None:
        if self.asked.closed_at:
            raise Http404("a closed request stays as it is")

    def _show(self, form: MendRequestForm, seen: str, status: int = 200) -> HttpResponse:
        return self.page(form=form, seen=seen, asked=self.asked, status=status)
