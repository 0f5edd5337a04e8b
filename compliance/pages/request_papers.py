"""What a request asks for, on the form on which its authority wants copies."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase

from compliance.pages.one_request import MOST_ON_A_FORM
from compliance.pages.requests import RequestsPage
from compliance.services import request_matches
from compliance.services.official_forms import drawn_form, form_named
from records.models import AuditEntry
from records.pages.seen import note_taken
from shared.wording import LANGUAGES


class RequestOnForm(RequestsPage):
    """The records that the request asks for, as PDF in the language of the address."""

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        found = form_named(kwargs["form"])
        if found is None or kwargs["language"] not in LANGUAGES:
            raise Http404("no such form")
        matches = found.holds_for(request_matches.signed_matches(self.asked), self.firm)
        in_order = matches.select_related("firm").order_by("site", "day", "number")
        treatments = list(in_order[: MOST_ON_A_FORM + 1])
        if not 0 < len(treatments) <= MOST_ON_A_FORM:
            raise Http404("nothing, or too much, for one paper")
        for each in treatments:
            note_taken(request, self.firm, each, AuditEntry.Kind.PRINTED)
        what = {"authority": self.asked.name, "asked_at": self.asked.received_at}
        pdf = drawn_form(found, treatments, kwargs["language"], **what)
        answer = HttpResponse(pdf, content_type="application/pdf")
        answer["Content-Disposition"] = f'inline; filename="{found.name}-{kwargs["language"]}.pdf"'
        return answer
