"""Which notices are on their way or came to whom they were for."""

from records.models import Notice, Treatment
from records.outbox.outdated import still_holds

LIVE = tuple(one for one in Notice.State.values if one not in ("withdrawn", "refused", "voicemail"))


def is_live(notice: Notice, treatment: Treatment) -> bool:
    """Whether it tells what is planned, and is on its way or came to whom it was for."""
    return notice.state in LIVE and not notice.came_wrong and still_holds(notice, treatment)
