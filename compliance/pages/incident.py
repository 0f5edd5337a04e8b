"""One incident: what to do now, what is known, who has to be told by when, what was done, how it ended."""

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from compliance.pages.incident_forms import AgainForm, FactsForm, NoteForm, ToldForm, WhyForm
from compliance.pages.incidents import IncidentsPage
from compliance.pages.written_since import SEEN, changed_alone, seen_again, seen_in
from compliance.services import incidents
from compliance.services.incidents import ReportDuty, StillOwedError
from records.incidents.first_steps import FIRST_STEPS, LABEL_FIRST
from records.incidents.reached import reached_said
from records.models import Incident, Treatment
from records.models.treatments import SIGNED_STATES
from records.pages.seen import note_seen
from records.services.incidents import add_entry, write_facts
from shared import clock

FRESH = timedelta(days=1)
"""So long what to do now stands open on its page."""
FACTS = ("kind", "happened_at", "known_at", "place", "description", "amount", "reached", "affected", "names")
FACTS += ("action",)


class OneIncident(IncidentsPage):
    template_name = "compliance/incident.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.incident)
        return self._show(NoteForm(self.incident, initial={"at": local_now(self.incident)}), self._end_form())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Add what was done since, or close or open it."""
        if request.POST.get("do") == "end":
            return self._end()
        form = NoteForm(self.incident, request.POST)
        refuse_closed(self.incident, form)
        if not form.is_valid():
            return self._show(form, self._end_form(), status=422)
        add_entry(self.incident, request.user, "note", **form.cleaned_data)
        return self.back()

    def _end_form(self, data: Any = None) -> forms.Form:
        return AgainForm(data) if self.incident.is_closed else WhyForm(data)

    def _end(self) -> HttpResponse:
        form = self._end_form(self.request.POST)
        act = incidents.open_again if self.incident.is_closed else incidents.close
        if form.is_valid():
            try:
                act(self.incident, self.request.user, form.cleaned_data["why"])
            except StillOwedError:
                form.add_error(None, _("Say first of each report that it was made, or why it is not owed."))
        if form.errors:
            note = NoteForm(self.incident, initial={"at": local_now(self.incident)})
            return self._show(note, form, status=422)
        return self.back()

    def _show(self, note: NoteForm, end: forms.Form, status: int = 200) -> HttpResponse:
        of, now = self.incident, clock.now()
        packs, silent = incidents.looked_at(of)
        return self.page(
            packs=[pack.title.say(self.language) for pack in packs],
            silent=silent,
            incident=of,
            steps=FIRST_STEPS[of.kind],
            label=LABEL_FIRST,
            fresh=not of.is_closed and of.begun_at > now - FRESH,
            reached=reached_said(of.reached, self.language),
            duties=[(each, each.is_late(now)) for each in incidents.duties_of(of)],
            entries=of.entries.select_related("by"),
            note=note,
            end=end,
            form=end if end.errors else note,
            may_close=self.may("records.close_incident"),
            may_sign=self.may("records.sign_follow_up") and is_to_be_signed(of),
            status=status,
            **self.of_the_incident(),
        )


class IncidentFacts(IncidentsPage):
    template_name = "compliance/incident_facts.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.incident)
        return self._show(stored := self._stored(), seen_in(stored))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form, stored, seen = FactsForm(self.incident, request.POST), self._stored(), request.POST.get(SEEN, "")
        refuse_closed(self.incident, form)
        changed = changed_alone(form, stored, seen) if form.is_valid() else set()
        if form.errors:
            return self._show(form, seen_again(form, stored, seen), status=422)
        given = {name: value for name, value in form.cleaned_data.items() if name in changed}
        write_facts(self.incident, request.user, given)
        messages.success(request, _("Kept."))
        return self.back()

    def _stored(self) -> FactsForm:
        return FactsForm(self.incident, initial=facts_of(self.incident))

    def _show(self, form: FactsForm, seen: str, status: int = 200) -> HttpResponse:
        return self.page(form=form, seen=seen, incident=self.incident, status=status)


class IncidentTold(IncidentsPage):
    """Say of a report that it was made, or why it is not owed; or that somebody else was told."""

    template_name = "compliance/incident_told.html"

    @cached_property
    def duty(self) -> ReportDuty | None:
        key = self.request.GET.get("duty")
        return next((each for each in incidents.duties_of(self.incident) if each.key == key), None)

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.incident)
        to = self.duty.report.to.say(self.language) if self.duty else ""
        return self._show(self._form(initial={"at": local_now(self.incident), "kind": "told", "to": to}))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = self._form(request.POST)
        refuse_closed(self.incident, form)
        if not form.is_valid():
            return self._show(form, status=422)
        given = {"kind": "told", **form.cleaned_data}
        key = self.duty.key if self.duty else ""
        incidents.answer(self.incident, request.user, given.pop("kind"), given.pop("at"), duty=key, **given)
        messages.success(request, _("Kept."))
        return self.back()

    def _form(self, *args: Any, **kwargs: Any) -> ToldForm:
        form = ToldForm(self.incident, *args, **kwargs)
        if self.duty is None:
            del form.fields["kind"]
        return form

    def _show(self, form: ToldForm, status: int = 200) -> HttpResponse:
        return self.page(form=form, incident=self.incident, duty=self.duty, status=status)


def refuse_closed(incident: Incident, form: forms.Form) -> None:
    """What is written to one that somebody has closed meanwhile is not kept, and says so."""
    if incident.is_closed:
        form.add_error(
            None, _("This incident was closed meanwhile, and nothing was kept. It must be opened again first.")
        )


def local_now(incident: Incident) -> datetime:
    """Now on the clock of where it happened, as a box of a form shows it."""
    return local(clock.now(), incident)


def local(moment: datetime, incident: Incident) -> datetime:
    return moment.astimezone(ZoneInfo(incident.time_zone)).replace(tzinfo=None)


def facts_of(incident: Incident) -> dict[str, Any]:
    """What is known of it, as the form shows it."""
    known = {name: getattr(incident, name) for name in FACTS}
    known |= {name: local(known[name], incident) for name in ("happened_at", "known_at")}
    return known | {"treatment": incident.treatment_id, "product": incident.product_id}


def is_to_be_signed(incident: Incident) -> bool:
    """Whether its treatment is signed, and the record knows nothing of it yet."""
    treatment: Treatment | None = incident.treatment
    if treatment is None or incident.item or incident.follow_up_id:
        return False
    return treatment.state in SIGNED_STATES and not treatment.is_open
