"""Which notices count as having told somebody: what went out, came to the right place and is not called off."""

from collections.abc import Iterable
from datetime import datetime

from records.models import Notice

State = Notice.State
REACHED = (State.SENT, State.VOICEMAIL, State.DELIVERED)
Person = tuple[str, str]


def person_of(notice: Notice) -> Person:
    """Whom it is for: a row, or (of a customer, an agency) the one of their kind."""
    return notice.to, str(notice.row or "")


def went_out(notice: Notice) -> tuple[datetime, datetime, str]:
    """What to put the notices to one person in order by: the one that went out last is what they read last,
    whichever was made first."""
    under_way = notice.state in (State.SENDING, State.UNSURE)
    moment = (None if under_way else notice.sent_at) or notice.claimed_at or notice.made_at
    return moment, notice.made_at, str(notice.pk)


def that_count(notices: Iterable[Notice]) -> list[Notice]:
    """In the order in which they were made; what was told before that the visit is off counts no more."""
    counting: dict[Person, list[Notice]] = {}
    for one in sorted(notices, key=went_out):
        if one.came_wrong:
            continue
        if one.called_off and (one.gone_out or one.state in REACHED):
            counting.pop(person_of(one), None)
        elif one.state in REACHED and one.sent_at and not one.called_off:
            counting.setdefault(person_of(one), []).append(one)
    found = [one for each in counting.values() for one in each]
    return sorted(found, key=lambda each: (each.made_at, each.pk))
