"""The page of those who do not want to be told by some means, where the office takes one out again."""

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _

from records.document.words import label
from records.outbox.not_wanted import not_wanted, take_out
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen

ON_A_PAGE = 100


class NotWanted(FirmPage):
    permission = "records.see_to_notices"
    template_name = "records/not_wanted.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        pages = Paginator(not_wanted(self.firm), ON_A_PAGE).get_page(request.GET.get("page"))
        rows = [(row, label("means", row.means, self.language)) for row in pages]
        return self.page(pages=pages, rows=rows)


class WantedAgain(FirmPage):
    """The button that takes one out."""

    permission = "records.see_to_notices"

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        row = get_object_or_404(not_wanted(self.firm), pk=kwargs["row"])
        take_out(row, request.user)
        messages.success(request, _("Taken out. Their next notice may go this way again."))
        return redirect("not_wanted")
