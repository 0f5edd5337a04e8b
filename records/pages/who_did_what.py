"""Who did what: searched, paged by key, and taken out as a file. For managers."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.utils.translation import gettext_lazy as _

from records.auditing.as_csv import lines
from records.auditing.search import AuditFilter, entries_of, page_after
from records.auditing.words import kinds_of_things, said
from records.forms.dates import DayField
from records.models import AuditEntry
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen, note_taken
from records.services.audit import Thing
from shared import clock

PAGE = 50
AT_ONCE = 500
"""Rows that are read at a time for a file."""


class AuditSearch(forms.Form):
    """What a manager may search by."""

    day_from = DayField(label=_("From day"), required=False, widget=forms.DateInput({"type": "date"}))
    day_to = DayField(label=_("To day"), required=False, widget=forms.DateInput({"type": "date"}))
    person = forms.CharField(label=_("Who"), required=False)
    kind = forms.ChoiceField(
        label=_("What was done"), required=False, choices=[("", _("Any")), *AuditEntry.Kind.choices]
    )
    thing = forms.ChoiceField(
        label=_("Kind of thing"), required=False, choices=lambda: [("", _("Any")), *kinds_of_things()]
    )
    about = forms.CharField(label=_("Name or id of the thing"), required=False)
    words = forms.CharField(label=_("Words in old or new values, reason or page"), required=False)

    def wanted(self) -> AuditFilter:
        given = {name: value for name, value in self.cleaned_data.items() if value}
        return AuditFilter(**given)


class AuditPage(FirmPage):
    permission = "records.view_audit"
    template_name = "records/who_did_what.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        search = AuditSearch(request.GET)
        wanted = search.wanted() if search.is_valid() else AuditFilter()
        rows = list(page_after(entries_of(self.firm, wanted), self._last())[: PAGE + 1])
        query = request.GET.copy()
        query.pop("after", None)
        return self.page(
            search=search,
            entries=[said(entry) for entry in rows[:PAGE]],
            after=rows[PAGE - 1].pk if len(rows) > PAGE else None,
            query=query.urlencode(),
            searching=any(query.values()),
            first="after" not in request.GET,
        )

    def _last(self) -> AuditEntry | None:
        last = self.request.GET.get("after", "")
        if not (last.isascii() and last.isdigit() and len(last) < 19):
            return None
        return AuditEntry.objects.for_firm(self.firm).filter(pk=last).first()


class AuditFile(FirmPage):
    """What a search finds, as CSV. That it was taken out is an entry of its own."""

    permission = "records.view_audit"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse | StreamingHttpResponse:
        search = AuditSearch(request.GET)
        if not search.is_valid():
            return HttpResponse(status=400)
        note_taken(request, self.firm, Thing("page", "audit"), AuditEntry.Kind.EXPORTED)
        entries = entries_of(self.firm, search.wanted()).iterator(chunk_size=AT_ONCE)
        answer = StreamingHttpResponse(lines(entries), content_type="text/csv; charset=utf-8")
        name = f"who-did-what-{clock.now():%Y-%m-%d}.csv"
        answer["Content-Disposition"] = f'attachment; filename="{name}"'
        return answer
