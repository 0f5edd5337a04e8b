"""What a returned mail makes of its notice."""

from django.db.models import Max

from records.models import Attempt, Notice
from records.outbox.results import result
from records.outbox.returned import Returned

State = Notice.State
KINDS = {"failed": Attempt.Kind.RETURNED, "delivered": Attempt.Kind.DELIVERED}
OUT = (State.SENDING, State.SENT, State.UNSURE, State.DELIVERED)
"""In any other state a report tells nothing new, and may be a forged one."""


def take_returned(returned: Returned) -> Notice | None:
    """Keep what the mail reports. None where no notice has its Message-ID, or none that is out."""
    rows = Notice.across_firms.select_related("firm")
    notice = rows.filter(mail_key=returned.mail_key, means="email", state__in=OUT).first()
    if notice is None or notice.is_erased:
        return None
    kind = KINDS.get(returned.action)
    if kind is not None and not _is_known(notice, kind, returned.words):
        result(notice, kind, returned.words)
    return notice


def _is_known(notice: Notice, kind: Attempt.Kind, words: str) -> bool:
    """Whether the same was reported of this sending; an earlier one may have come back in the same words."""
    since = notice.attempts.filter(kind=Attempt.Kind.AGAIN).aggregate(last=Max("at"))["last"]
    alike = notice.attempts.filter(kind=kind, answer=words)
    return (alike.filter(at__gt=since) if since else alike).exists()
