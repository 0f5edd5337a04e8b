"""Who wants to be told of an incident by when, by the rules of where it happened, and what is still due."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from compliance.pack_reader import registered_packs
from compliance.rulebook.incident_reports import IncidentReport
from compliance.rulebook.pack import Pack
from compliance.rulebook.places import covering, is_wide, not_covered
from records.models import Firm, Incident, IncidentEntry, User
from records.services import incidents
from records.services.incidents import Entry
from shared import clock

ANSWERS = (Entry.TOLD, Entry.NOT_OWED)


class StillOwedError(ValueError):
    """Nobody has said yet whether these reports were made or are not owed."""


@dataclass(frozen=True)
class ReportDuty:
    """One report that a law may ask for of one incident. `answer` says that it was made, or why it is not
    owed; None while nobody has said either."""

    pack: Pack
    report: IncidentReport
    due_at: datetime
    answer: IncidentEntry | None

    @property
    def key(self) -> str:
        return key_of(self.pack, self.report)

    def is_late(self, now: datetime) -> bool:
        """Whether the time has run out; of what is due at once, whether it was there to be told at all."""
        return self.answer is None and self.due_at < now


@dataclass(frozen=True)
class DueIncident:
    """An open incident with the reports that nobody has answered for yet, the soonest first."""

    incident: Incident
    duties: Sequence[ReportDuty]

    @property
    def due_at(self) -> datetime:
        return self.duties[0].due_at


def key_of(pack: Pack, report: IncidentReport) -> str:
    return f"{pack.id}: {report.cite}"


def reports_asked(places: Sequence[str], day: date) -> list[tuple[Pack, IncidentReport]]:
    """What the packs in force at these places ask to be reported of incidents."""
    packs = covering(registered_packs(), places, day)
    return [(pack, each) for pack in packs for each in pack.incidents]


def looked_at(incident: Incident) -> tuple[list[Pack], list[str]]:
    """The packs in force where it happened that say whom to tell, and the places without one that does."""
    day = incident.known_at.astimezone(ZoneInfo(incident.time_zone)).date()
    packs = [pack for pack in covering(registered_packs(), incident.jurisdictions, day) if pack.incidents]
    return packs, [each for each in not_covered(incident.jurisdictions, packs) if is_wide(each)]


def duties_of(incident: Incident) -> list[ReportDuty]:
    """The reports that may be owed of it, the soonest due first."""
    known = incident.known_at.astimezone(ZoneInfo(incident.time_zone))
    answers = {each.duty: each for each in incident.entries.all() if each.kind in ANSWERS and each.duty}
    asked = reports_asked(incident.jurisdictions, known.date())
    duties = [
        ReportDuty(pack, each, each.due(known), answers.get(key_of(pack, each)))
        for pack, each in asked
        if incident.kind in each.kinds
    ]
    return sorted(duties, key=lambda duty: duty.due_at)


def unanswered(incident: Incident) -> list[ReportDuty]:
    return [duty for duty in duties_of(incident) if duty.answer is None]


def due(firm: Firm, now: datetime) -> list[DueIncident]:
    """The firm's incidents of which somebody may have to be told: what is overdue longest on top.

    `now` leaves out what was not known by then.
    """
    return sorted(_due(firm, now), key=lambda each: each.due_at)


def _due(firm: Firm, now: datetime) -> Iterator[DueIncident]:
    rows = Incident.objects.for_firm(firm).exclude(state=Incident.State.CLOSED).filter(known_at__lte=now)
    for incident in rows.select_related("firm", "treatment__site").prefetch_related("entries"):
        if duties := unanswered(incident):
            yield DueIncident(incident, duties)


@transaction.atomic
def answer(incident: Incident, by: User, kind: str, at: datetime, **said: str) -> IncidentEntry:
    """That somebody was told, or why a report is not owed. Once all are answered for it is reported.

    Raises PermissionDenied, and ClosedError.
    """
    entry = incidents.add_entry(incident, by, kind, at, **said)
    told = incident.entries.filter(kind=Entry.TOLD).exists()
    if told and not unanswered(_again(incident)):
        incidents.reported(incident)
    return entry


def close(incident: Incident, by: User, why: str) -> None:
    """Close it. Raises PermissionDenied, ClosedError, and StillOwedError while a report is unanswered for."""
    if unanswered(_again(incident)):
        raise StillOwedError(str(incident.pk))
    incidents.close(incident, by, why)


def open_again(incident: Incident, by: User, why: str) -> None:
    incidents.open_again(incident, by, why)


def late(duties: Sequence[ReportDuty]) -> bool:
    return any(duty.is_late(clock.now()) for duty in duties)


def _again(incident: Incident) -> Incident:
    """As it is now, without what was read of its entries before."""
    rows = Incident.objects.for_firm(incident.firm).select_related("firm", "treatment__site")
    return rows.get(pk=incident.pk)
