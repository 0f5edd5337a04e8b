"""The first page: what a member of this role has to see to today."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.lots_aside import planned_with_lots_aside
from records.models import Membership, Seal, Treatment
from records.outbox.by_hand import open_tasks
from records.pages.firm_page import FirmPage
from records.pages.seals_shown import ShownSeal, shown_seals
from records.pages.seen import note_seen
from records.register_search import treatments_of
from records.seals import to_look_at, to_settle
from records.services.misuse import alerts_of
from records.tanks_at_hand import overdrawn
from shared import clock

MOST = 20
Role, State = Membership.Role, Treatment.State


@dataclass(frozen=True)
class Pile:
    """One list on the first page. `empty` is said where it holds nothing; `timed` shows the hour, too."""

    title: str | Promise
    empty: str | Promise
    treatments: list[Treatment]
    timed: bool = False


class Home(FirmPage):
    template_name = "records/home.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        today = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        looked_at = self._to_look_at(today)
        return self.page(
            today=today,
            groups=self._piles(today),
            may_plan=self.may("records.plan_treatment"),
            **looked_at,
            to_settle=self._to_settle(looked_at.get("to_look_at", ())),
            may_edit=self.may("records.edit_draft"),
            alarm=self.log_alarm(),
            planned_aside=planned_with_lots_aside(self.firm) if self.may("records.view_draft") else (),
            alerts=alerts_of(self.firm)[:MOST] if self.may("records.view_audit") else (),
            **self._notice_tasks(),
        )

    def _notice_tasks(self) -> dict[str, Any]:
        if not self.may("records.see_to_notices"):
            return {}
        tasks = open_tasks(self.firm)
        return {"notice_tasks": tasks[:MOST], "more_notice_tasks": max(0, tasks.count() - MOST)}

    def _to_look_at(self, today: date) -> dict[str, Any]:
        """What a manager looks at and ticks off: those of one page, and how many more there are."""
        if not self.may("records.look_at_seals"):
            return {}
        seals, more = to_look_at(self.firm), to_look_at(self.firm).count() - MOST
        shown = {"to_look_at": self._compared(seals[:MOST]), "more_to_look_at": max(0, more), "may_look": True}
        return {**shown, "overdrawn": overdrawn(self.firm, today)}

    def _to_settle(self, said_already: Sequence[ShownSeal]) -> list[ShownSeal]:
        """What the person signed on a phone, was not taken, and waits for them."""
        if not self.may("records.sign_treatment"):
            return []
        said = [shown.seal.pk for shown in said_already]
        waiting = to_settle(self.firm, self.request.user).exclude(pk__in=said)
        return self._compared(waiting[:MOST])

    def _compared(self, seals: QuerySet[Seal]) -> list[ShownSeal]:
        return shown_seals(seals, self.language, compares=self.may("records.view_draft"))

    def _piles(self, today: date) -> list[Pile]:
        treatments = treatments_of(self.firm).exclude(state=State.BROUGHT_IN)
        unsigned = treatments.filter(state__in=[State.DRAFT, State.CORRECTING])
        todays = Pile(
            _("Today's treatments"),
            _("Nothing is planned for today."),
            sorted(treatments.filter(day=today), key=self._turn),
            timed=True,
        )
        unfinished = _pile(
            _("Unfinished, from earlier days"),
            _("Everything from earlier days is signed."),
            unsigned.filter(day__lt=today),
        )
        coming = _pile(_("Coming"), _("Nothing is planned yet."), unsigned.filter(day__gt=today).reverse())
        not_met = _pile(
            _("Signed with something not met"),
            _("No signed record has anything not met."),
            treatments.filter(outcome="not_met").exclude(state__in=[State.DRAFT, State.VOID]),
        )
        newest = _pile(
            _("Newest records"), _("Nothing is signed yet."), treatments.exclude(state=State.DRAFT)
        )
        return {
            Role.CREW: [todays, unfinished, coming],
            Role.MANAGER: [todays, unfinished, not_met, coming],
            Role.OFFICE: [todays, coming, unfinished],
            Role.INSPECTOR: [newest],
        }[Role(self.membership.role)]

    def _turn(self, treatment: Treatment) -> tuple[bool, datetime]:
        """Own jobs first, each in the order of the day."""
        person = self.membership.person
        own = person is not None and person.name in treatment.applicators
        return not own, treatment.planned_at


def _pile(title: str | Promise, empty: str | Promise, treatments: QuerySet[Treatment]) -> Pile:
    return Pile(title, empty, list(treatments[:MOST]))
