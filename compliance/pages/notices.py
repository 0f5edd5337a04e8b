"""Who is told of a planned treatment, by when, how and why; and what another day would change."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from compliance.notices.duty import Ground
from compliance.notices.tellings import Asking, Telling
from compliance.notices.timeline import Plan
from compliance.pages.doubts import sentence_of
from compliance.pages.notice_words import Said, state_word
from compliance.pages.people_told import People, Person, recipient_word
from compliance.rulebook.durations import said_language
from compliance.services.notice_plan import moved_plan, plan_of
from compliance.services.sensitive import sensitive_near
from records.document.words import WORD_LISTS
from records.forms.dates import DayField
from records.models import Membership, Notice, Treatment
from records.outbox.outdated import outdated
from records.pages.firm_page import FirmPage
from records.pages.remarks import section_at
from shared import clock


class OtherDayForm(forms.Form):
    """Another start, to look at only."""

    day = DayField(label=_("Day"), widget=forms.DateInput({"type": "date"}))
    time = forms.TimeField(label=_("Time"), widget=forms.TimeInput({"type": "time"}))


@dataclass(frozen=True)
class Block:
    """People of one sort who are told by the same rules, and stand alike."""

    title: str
    people: list[Person]
    first: Telling
    state: str | Promise
    when: str
    passed: bool
    asks: Sequence[dict[str, Any]]
    enter: bool
    """Whether something of each of them is to be entered by who looks."""


@dataclass(frozen=True)
class Rule:
    """A rule that does not apply, or of which that can't be told, with where to enter what is missing."""

    ground: Ground
    why: str
    where: str


class NoticesPage(FirmPage):
    permission = "records.view_draft"
    template_name = "compliance/notices.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        plan = plan_of(treatment)
        zone = treatment.site.time_zone or self.firm.time_zone
        people = self._people(treatment, plan)
        said = Said(plan, zone, self.language)
        form = OtherDayForm(request.GET if "day" in request.GET else None, initial=_initial(plan, zone))
        other = None
        if form.is_bound and form.is_valid():
            start = datetime.combine(form.cleaned_data["day"], form.cleaned_data["time"], ZoneInfo(zone))
            other = self._other(treatment, plan, start, zone)
        return self.page(
            treatment=treatment,
            may_send=self._may_send(treatment),
            changed=len(outdated(treatment, Notice.objects.for_firm(self.firm).filter(treatment=treatment))),
            answer=said.answer(clock.now()),
            open_rules=said.open_rules(),
            sensitive=sensitive_near(treatment, of_registers=self.membership.role != Membership.Role.CREW),
            blocks=self._blocks(plan.tellings, people, said),
            events=[(said.when(one.at) if one.at else "", said.event(one)) for one in plan.events()],
            unknown=self._rules(treatment, plan, None),
            not_applying=self._rules(treatment, plan, False),
            form=form,
            other=other,
        )

    def _may_send(self, treatment: Treatment) -> bool:
        stands = treatment.state == Treatment.State.DRAFT or treatment.is_off
        return stands and self.may("records.send_notices")

    def _other(self, treatment: Treatment, plan: Plan, start: datetime, zone: str) -> dict[str, Any]:
        other = moved_plan(plan, treatment, start)
        moved = plan.moved(other)
        people = self._people(treatment, other)
        said = Said(other, zone, self.language)
        groups = [
            (_("Tell again"), moved.again),
            (_("Tell for the first time"), moved.first),
            (_("Covered by an alternate date that the notice names"), moved.by_alternate),
            (_("Their notice still serves"), moved.covered),
            (_("Need not be told any more"), moved.no_longer),
        ]
        return {
            "start": said.when(start),
            "answer": said.answer(clock.now()),
            "open_rules": said.open_rules(),
            "groups": [(title, self._blocks(found, people, said)) for title, found in groups if found],
        }

    def _people(self, treatment: Treatment, plan: Plan) -> People:
        names = self.membership.role != Membership.Role.CREW
        return People(self.firm, plan.context, treatment.customer_name, names)

    def _blocks(self, tellings: Iterable[Telling], people: People, said: Said) -> list[Block]:
        grouped: dict[object, list[Telling]] = {}
        for one in tellings:
            rules = tuple((ask.duty.rule, ask.state, sentence_of(ask, one, self.language)) for ask in one.asks)
            grouped.setdefault((one.to, one.instead, rules), []).append(one)
        told: set[str] = set()
        return [
            Block(
                recipient_word(alike[0]),
                people.of(alike),
                alike[0],
                state_word(alike[0]),
                said.when(alike[0].latest),
                _has_passed(alike[0]),
                [self._ask(ask, alike[0], told) for ask in alike[0].asks],
                bool(alike[0].not_stated) and self.may("records.edit_neighbours"),
            )
            for alike in grouped.values()
        ]

    def _ask(self, ask: Asking, telling: Telling, told: set[str]) -> dict[str, Any]:
        """One rule that asks; its doubt and contents stand where it comes `first`."""
        words = WORD_LISTS["means"]
        first = ask.duty.rule not in told
        told.add(ask.duty.rule)
        return {
            "duty": ask.duty,
            "first": first,
            "state": ask.state,
            "sentence": sentence_of(ask, telling, self.language),
            "languages": ", ".join(said_language(one).say(self.language) for one in ask.duty.languages),
            "means": ", ".join(words[one].say(self.language) for one in ask.duty.means),
            "contents": [content.said for content in ask.duty.contents],
        }

    def _rules(self, treatment: Treatment, plan: Plan, applies: bool | None) -> list[Rule]:
        every = (*plan.duties.notices, *plan.duties.signs, *plan.duties.later)
        return [
            Rule(one, one.why.say(self.language) if one.why else "", self._where(treatment, one.lacks))
            for one in every
            if one.applies is applies
        ]

    def _where(self, treatment: Treatment, lacks: Sequence[str]) -> str:
        """The page on which the first of the missing members is entered."""
        for path in lacks:
            if path.startswith("context.determinations"):
                return reverse("questions")
            if path.startswith("context.neighbours"):
                return reverse("neighbours", kwargs={"site": treatment.site_id})
            if path.startswith("context.registered_persons"):
                return reverse("registers")
            if section := section_at(path):
                return reverse("section", kwargs={"uuid": treatment.pk, "section": section.slug})
        return ""


def _has_passed(telling: Telling) -> bool:
    """Whether it is too late to tell somebody in time who was not."""
    return bool(
        telling.latest and telling.latest < clock.now() and telling.state not in ("in-time", "if-asked")
    )


def _initial(plan: Plan, zone: str) -> dict[str, Any]:
    start = plan.start.astimezone(ZoneInfo(zone)) if plan.start else None
    return {"day": start.date().isoformat(), "time": f"{start:%H:%M}"} if start else {}
