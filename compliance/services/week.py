"""The notices of the next two weeks: of each planned treatment who is untold by when, read for all at once."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache, cached_property
from typing import Any
from uuid import UUID

from compliance.notices.tellings import Telling, in_utc
from compliance.notices.timeline import Plan
from compliance.notices.told import told_in
from compliance.pack_reader import registered_packs
from compliance.services.check import today
from compliance.services.determinations import determinations_on
from compliance.services.live import is_live, may_serve
from compliance.services.notices_sent import told_by
from compliance.services.own_rules import pack_in_use
from records.document.context import read_context
from records.document.days import treatment_day
from records.document.reader import read
from records.models import Firm, Notice, Register, Treatment
from records.outbox.counting import Person, person_of
from records.outbox.in_document import entry_ids
from records.outbox.outdated import outdated
from records.people_near import neighbours_by_site, registered_near
from shared import clock

AHEAD = timedelta(days=14)
_WORDS = ("text", "subject", "address", "rules")


@dataclass(frozen=True, eq=False)
class Coming:
    """One treatment as it is planned. `changed`: the notices that no longer hold, one for each person."""

    treatment: Treatment
    plan: Plan
    notices: tuple[Notice, ...]
    changed: tuple[Notice, ...]

    @cached_property
    def untold(self) -> tuple[Telling, ...]:
        """Those who must be told before it, or may have to be, and whom nothing on its way tells."""
        if self.treatment.is_off:
            return ()
        asked = [one for one in self.plan.tellings if one.must or one.perhaps]
        return tuple(one for one in asked if one.state != "in-time" and not self._on_its_way(one))

    @property
    def latest(self) -> datetime | None:
        return min((one.latest for one in self.untold if one.latest), key=in_utc, default=None)

    @property
    def is_late(self) -> bool:
        return bool(self.latest and self.latest < clock.now())

    @property
    def waiting(self) -> int:
        """How many notices of it have not gone out yet."""
        return sum(one.state in ("ready", "sending", "printed") for one in self._holding)

    @cached_property
    def _holding(self) -> list[Notice]:
        return [one for one in self.notices if is_live(one, self.treatment)]

    @cached_property
    def _reached(self) -> Mapping[Person, list[Notice]]:
        """Whom nothing told otherwise since, each with what they have."""
        otherwise = {person_of(one) for one in self.changed}
        found: dict[Person, list[Notice]] = {}
        for one in self._holding:
            if one.state != Notice.State.SENT and person_of(one) not in otherwise:
                found.setdefault(person_of(one), []).append(one)
        return found

    def _on_its_way(self, telling: Telling) -> bool:
        """What is sent already and yet not in time does not tell them."""
        context = self.plan.context
        people = context.neighbours if telling.to == "neighbour" else context.registered_persons
        if telling.number is not None:
            person = telling.to, str((people or ())[telling.number].id)
            return may_serve(telling, self._reached.get(person, ()))
        return any(may_serve(telling, each) for (to, _row), each in self._reached.items() if to == telling.to)


def coming(firm: Firm) -> Iterator[Coming]:
    """The treatments of two weeks by time, with few questions to the database whatever their number.

    What hangs on stock or on earlier treatments can't be told here: a rule on notices that asks for them is
    open until the treatment's own page is seen.
    """
    now = clock.now()
    rows = Treatment.objects.for_firm(firm).filter(planned_at__range=(now - timedelta(days=1), now + AHEAD))
    kept = (Treatment.State.DRAFT, Treatment.State.SIGNED, Treatment.State.VOID)
    wanted = rows.filter(state__in=kept).select_related("firm", "site__customer")
    treatments = list(wanted.order_by("planned_at"))
    notices = _notices(firm, treatments)
    around = _Around(firm, treatments)
    for one in treatments:
        own = notices.get(one.pk, ())
        changed = tuple(outdated(one, own))
        if changed or (one.state == Treatment.State.DRAFT and not one.is_off and one.planned_at > now):
            yield Coming(one, around.plan(one, own), tuple(own), changed)


def _notices(firm: Firm, treatments: Iterable[Treatment]) -> Mapping[UUID, list[Notice]]:
    found: dict[UUID, list[Notice]] = {}
    for one in Notice.objects.for_firm(firm).filter(treatment__in=list(treatments)).defer(*_WORDS):
        found.setdefault(one.treatment_id, []).append(one)
    return found


class _Around:
    """What the firm knows around its treatments, asked for once."""

    def __init__(self, firm: Firm, treatments: Iterable[Treatment]) -> None:
        own = pack_in_use(firm)
        self._packs = [*registered_packs(), *([own] if own else [])]
        self._near = neighbours_by_site(firm, (one.site_id for one in treatments))
        self._has_registers = Register.objects.for_firm(firm).exists()
        self._registered: dict[UUID, Any] = {}
        self._answers = cache(lambda day: determinations_on(firm, day))

    def plan(self, treatment: Treatment, notices: Iterable[Notice]) -> Plan:
        document = read(treatment.document)
        context = self._context(treatment, treatment_day(document) or treatment.day)
        besides = {id_ for one in notices for id_ in entry_ids(one).values()}
        told = (*told_by(treatment, notices, context), *told_in(document, besides=besides))
        return Plan(document, context, self._packs, told)

    def _context(self, treatment: Treatment, day: date) -> Any:
        near = {
            "neighbours": self._near.get(treatment.site_id),
            "registered_persons": self._registered_near(treatment),
        }
        return read_context(
            {
                **{name: people for name, people in near.items() if people is not None},
                "on": today(treatment).isoformat(),
                "follow_ups": [],
                "received_at": clock.now().isoformat(timespec="seconds"),
                "determinations": self._answers(day),
            }
        )

    def _registered_near(self, treatment: Treatment) -> Any:
        if not self._has_registers:
            return None
        if treatment.site_id not in self._registered:
            self._registered[treatment.site_id] = registered_near(treatment.site)
        return self._registered[treatment.site_id]
