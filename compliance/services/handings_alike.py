"""Two forms of one hand-over, as in two tabs, ask for one bundle."""

from datetime import timedelta

from django.db.models import Q

from compliance.models import Handing, RecordsRequest
from records.models import LogEntry
from shared import clock

State = Handing.State
JUST_NOW = timedelta(minutes=10)
"""So long after it was made it is given to who asks for the same; later they want a second one."""
ALIKE = ("to", "how", "language", "treatments", "withheld", "sheets", "photos", "findings", "since_id")


def same_now(wanted: Handing) -> Handing | None:
    """The one that is being made or was made just now, by the same person for the same request and with the
    same in it. Within a transaction, in which nobody else asks for one of this request."""
    RecordsRequest.objects.for_firm(wanted.firm).select_for_update().get(pk=wanted.request_id)
    rows = Handing.objects.for_firm(wanted.firm).filter(request=wanted.request, by=wanted.by)
    under_way = Q(state__in=(State.WAITING, State.MAKING))
    just_made = Q(state=State.READY, ready_at__gt=clock.now() - JUST_NOW)
    for one in rows.filter(under_way | just_made).order_by("-at"):
        if _is_alike(one, wanted) and not one.is_broken_off and not _signed_since(one):
            return one
    return None


def _is_alike(one: Handing, other: Handing) -> bool:
    return all(getattr(one, name) == getattr(other, name) for name in ALIKE)


def _signed_since(one: Handing) -> bool:
    """Whether something of its records was signed that is not in it."""
    if one.log_size is None:
        return False
    entries = LogEntry.objects.for_firm(one.firm).filter(index__gte=one.log_size).order_by()
    late = entries.values_list("record__treatment", "follow_up__follows__treatment")
    return any(str(pk) in one.treatments for both in late for pk in both if pk)
