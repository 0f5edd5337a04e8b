"""Incidents that a treatment's record or a follow-up tells of, and that nobody has opened by themselves."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import uuid4

from django.db import transaction

from records.models import Firm, Incident, IncidentEntry, SignedFollowUp, Treatment, TreatmentTerm, User
from records.register.terms import INCIDENT
from records.services.incidents import add_entry, begin
from shared import clock
from shared.quantities import read as read_quantity
from shared.times import read_time

LATELY = timedelta(days=60)
"""How far back it is looked: common practice, no source. Older ones are found in the register."""
_LEFT_OUT = (Treatment.State.VOID, Treatment.State.BROUGHT_IN)


@dataclass(frozen=True)
class ToldOnRecord:
    """One of them. `item` is its id in the document, `follow_up` the follow-up, whose kind is not stated."""

    treatment: Treatment
    kind: str
    at: datetime
    said: str
    item: str = ""
    follow_up: SignedFollowUp | None = None
    stated: dict[str, Any] | None = None

    @property
    def key(self) -> str:
        """By which a page names it."""
        return str(self.follow_up.pk) if self.follow_up else f"{self.treatment.pk}/{self.item}"


def told_on_records(firm: Firm) -> list[ToldOnRecord]:
    """Those of the last weeks, the newest first."""
    since = clock.now() - LATELY
    found = [*_in_documents(firm, since), *_in_follow_ups(firm, since)]
    return sorted(found, key=lambda each: each.at, reverse=True)


@transaction.atomic
def take(told: ToldOnRecord, by: User, kind: str = "") -> Incident:
    """Open it with what stands there; it was known when it happened, unless somebody says otherwise later.

    Raises PermissionDenied.
    """
    stated = told.stated or {}
    amount = stated.get("amount")
    made = begin(
        told.treatment.firm,
        by,
        uuid4(),
        told.kind or kind,
        told.treatment,
        happened_at=told.at,
        known_at=told.at,
        item=told.item,
        follow_up=told.follow_up,
        description=told.said,
        action=stated.get("action") or "",
        amount=read_quantity(amount) if amount else None,
    )
    to, at = stated.get("reported_to"), stated.get("reported_at")
    if to and at:
        add_entry(made, by, IncidentEntry.Kind.TOLD, read_time(at), to=to[:200])
    return made


def _in_documents(firm: Firm, since: datetime) -> Iterator[ToldOnRecord]:
    terms = TreatmentTerm.objects.for_firm(firm).filter(term__kind=INCIDENT, day__gte=since.date())
    treatments = Treatment.objects.for_firm(firm).filter(pk__in=terms.values("treatment"))
    opened = _opened(firm, "treatment", "item")
    for treatment in treatments.exclude(state__in=_LEFT_OUT).select_related("firm", "site"):
        for place, stated in enumerate(treatment.document.get("incidents") or []):
            item = stated.get("id") or f"#{place}"
            kind = stated.get("kind")
            if kind and (treatment.pk, item) not in opened:
                at = read_time(stated["at"]) if stated.get("at") else treatment.planned_at
                said = stated.get("description") or ""
                yield ToldOnRecord(treatment, kind, at, said, item=item, stated=stated)


def _in_follow_ups(firm: Firm, since: datetime) -> Iterator[ToldOnRecord]:
    rows = SignedFollowUp.objects.for_firm(firm).filter(kind="incident", at__gte=since)
    opened = _opened(firm, "follow_up")
    for row in rows.select_related("follows__treatment__firm", "follows__treatment__site"):
        if (row.pk,) not in opened:
            said = row.follow_up.get("detail") or ""
            yield ToldOnRecord(row.follows.treatment, "", row.at, said, follow_up=row)


def _opened(firm: Firm, *names: str) -> set[tuple[Any, ...]]:
    return set(Incident.objects.for_firm(firm).values_list(*names))
