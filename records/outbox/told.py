"""What a person who was told may see on their own page, and answer there."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from records.models import AuditEntry, Neighbour, Notice, NoticeTask, Occupant, Treatment
from records.selectors import signed_versions
from records.services.audit import note
from shared import clock

KEPT_AFTER_RECORD = timedelta(days=30)
LONGEST_WORDS = 500
_LISTED: Mapping[str, Any] = {"neighbour": Neighbour, "occupant": Occupant}
ANSWERS = (NoticeTask.Kind.SENSITIVE, NoticeTask.Kind.BY_PHONE, NoticeTask.Kind.WRONG_ADDRESS)


@dataclass(frozen=True)
class Told:
    """A notice, and what has become of the visit that it announces."""

    notice: Notice
    over: bool
    cancelled: bool
    moved_to: datetime | None
    answered: frozenset[str]

    @property
    def zone(self) -> str:
        return self.notice.site.time_zone or self.notice.firm.time_zone


def told_at(token: str) -> Told | None:
    """What this unguessable address names."""
    if not re.fullmatch("[0-9a-f]{32}", token):
        return None
    rows = Notice.across_firms.select_related("treatment", "firm", "site", "erasure")
    notice = rows.filter(token=token).first()
    if notice is None:
        return None
    treatment = notice.treatment
    cancelled = treatment.is_off or notice.state == Notice.State.WITHDRAWN
    moved = treatment.planned_at != notice.planned_at and not cancelled
    return Told(
        notice=notice,
        over=notice.is_erased or _is_over(treatment),
        cancelled=cancelled,
        moved_to=treatment.planned_at if moved else None,
        answered=frozenset(notice.tasks.filter(kind__in=ANSWERS).values_list("kind", flat=True)),
    )


@transaction.atomic
def answer(told: Told, kind: str, words: str) -> bool:
    """Make the person's answer a task for the office, once; False for what is no answer, or comes too late. Who
    wants to be called is called first from then on."""
    if told.over or kind not in ANSWERS:
        return False
    said = "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in words)[:LONGEST_WORDS]
    NoticeTask.objects.for_firm(told.notice.firm).get_or_create(
        notice=told.notice, kind=kind, defaults={"words": said.strip(), "firm": told.notice.firm}
    )
    if kind == NoticeTask.Kind.BY_PHONE and (listed := _LISTED.get(told.notice.to)):
        _call_first(listed.objects.for_firm(told.notice.firm).filter(pk=told.notice.row).first())
    return True


def _call_first(row: Neighbour | Occupant | None) -> None:
    """Who did what says that it was the person's own word, by nobody of the firm."""
    if row and not row.wishes_phone:
        row.wishes_phone = True
        row.save(update_fields=["wishes_phone"])
        note(AuditEntry.Kind.CHANGED, row, firm=row.firm, reason="answered")


def _is_over(treatment: Treatment) -> bool:
    first = signed_versions(treatment).order_by("version").first()
    return first is not None and clock.now() > first.received_at + KEPT_AFTER_RECORD
