"""What a person who was told may see on their own page."""

import re
from dataclasses import dataclass
from datetime import datetime, timedelta

from records.models import Notice, Treatment
from records.outbox.outdated import still_holds
from records.selectors import signed_versions
from shared import clock

KEPT_AFTER_RECORD = timedelta(days=30)


@dataclass(frozen=True)
class Told:
    """A notice, and what has become of the visit that it announces. `withdrawn`: the firm took it back,
    whatever it plans; `on_again_at`: it said that the visit is off; `otherwise`: something else than its time
    is planned otherwise by now."""

    notice: Notice
    over: bool
    cancelled: bool
    moved_to: datetime | None
    on_again_at: datetime | None
    withdrawn: bool
    otherwise: bool
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
    planned_at = None if treatment.is_off else treatment.planned_at
    return Told(
        notice=notice,
        over=notice.is_erased or _is_over(treatment),
        cancelled=treatment.is_off,
        moved_to=None if notice.called_off or planned_at == notice.planned_at else planned_at,
        on_again_at=planned_at if notice.called_off else None,
        withdrawn=notice.state == Notice.State.WITHDRAWN,
        otherwise=not still_holds(notice, treatment),
        answered=frozenset(notice.tasks.filter(taken_back_at=None).values_list("kind", flat=True)),
    )


def _is_over(treatment: Treatment) -> bool:
    first = signed_versions(treatment).order_by("version").first()
    return first is not None and clock.now() > first.received_at + KEPT_AFTER_RECORD
