"""Incidents: first what to do now, then one tap that keeps it; the list of them. The rest is in `incident`."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4, uuid5

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.functional import cached_property

from compliance.rulebook.incident_reports import INCIDENTS
from compliance.selectors import today_of
from compliance.services import incidents
from compliance.services.incidents import reports_asked
from records.incidents.first_steps import ALWAYS, FIRST_STEPS, LABEL_FIRST
from records.models import Incident, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.poison_lines import line_of
from records.selectors import treatment_of
from records.services.incidents import begin
from records.services.incidents_on_records import take, told_on_records
from shared import clock

CLOSED_SHOWN = 50
SAME = timedelta(minutes=10)
"""So long one tap that is sent twice means one incident."""


class IncidentsPage(FirmPage):
    permission = "records.tell_incident"

    @cached_property
    def incident(self) -> Incident:
        """The firm's incident of the address; Http404 where it has none of that id."""
        rows = Incident.objects.for_firm(self.firm)
        rows = rows.select_related("firm", "treatment__site", "product", "begun_by", "follow_up")
        return get_object_or_404(rows, pk=self.kwargs["incident"])

    def numbers(self, treatment: Treatment | None, places: list[str], country: str) -> dict[str, Any]:
        """Whom to call, by the place."""
        asked = reports_asked(places, today_of(self.firm))
        calls = [each for _pack, each in asked if "spill" in each.kinds and each.call]
        return {"line": line_of(country, places), "calls": calls, "treatment": treatment}

    def of_the_incident(self) -> dict[str, Any]:
        of = self.incident
        return self.numbers(of.treatment, of.jurisdictions, of.country)

    def back(self) -> HttpResponse:
        return redirect("incident", incident=self.incident.pk)


class IncidentNow(IncidentsPage):
    """What to do now; one tap on what happened begins it."""

    template_name = "compliance/incident_now.html"

    @cached_property
    def at(self) -> Treatment | None:
        try:
            named = UUID(self.request.GET.get("treatment", ""))
        except ValueError:
            return None
        found = treatment_of(self.firm, named)
        return None if found.is_brought_in else found

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.at.site if self.at else None
        places = (site and site.jurisdictions) or self.firm.jurisdictions
        numbers = self.numbers(self.at, places, site.country if site else self.firm.country)
        said = {"steps": ALWAYS, "label": LABEL_FIRST, "by_kind": FIRST_STEPS}
        return self.page(kinds=INCIDENTS, key=uuid4(), **said, **numbers)

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        kind = request.POST.get("kind", "")
        if kind not in INCIDENTS:
            return redirect(request.get_full_path())
        made = begin(self.firm, request.user, self._key(kind), kind, self.at)
        return redirect("incident", incident=made.pk)

    def _key(self, kind: str) -> UUID:
        """The same for one tap that is sent twice; another for another kind, place or person, and for a page
        that a phone kept and sends again later."""
        try:
            told = (UUID(self.request.POST.get("key", "")), kind, self.at and self.at.pk, self.request.user.pk)
            key = uuid5(self.firm.pk, ":".join(map(str, told)))
        except ValueError:
            return uuid4()
        before = Incident.objects.for_firm(self.firm).filter(pk=key).first()
        return uuid4() if before and before.begun_at < clock.now() - SAME else key


class Incidents(IncidentsPage):
    template_name = "compliance/incidents.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        rows = Incident.objects.for_firm(self.firm).select_related("treatment__site", "firm")
        of = Incident.State
        due = {each.incident.pk: each for each in incidents.due(self.firm, clock.now())}
        going = [(each, due.get(each.pk)) for each in rows.exclude(state=of.CLOSED)]
        going.sort(key=lambda pair: (pair[1] is None, pair[1].due_at if pair[1] else pair[0].happened_at))
        return self.page(
            going=going,
            closed=rows.filter(state=of.CLOSED)[:CLOSED_SHOWN],
            told=told_on_records(self.firm),
            kinds=INCIDENTS,
            now=clock.now(),
        )


class TakeIncident(IncidentsPage):
    """Open an incident that a record or a follow-up tells of."""

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        key, kind = request.POST.get("key"), request.POST.get("kind", "")
        found = next((each for each in told_on_records(self.firm) if each.key == key), None)
        if found is None or not (found.kind or kind in INCIDENTS):
            return redirect("incidents")
        return redirect("incident", incident=take(found, request.user, kind).pk)
