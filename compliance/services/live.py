"""Which notices are on their way or came to whom they were for."""

from collections.abc import Iterable

from compliance.notices.tellings import Telling
from records.models import Notice, Treatment
from records.outbox.outdated import still_holds

LIVE = tuple(one for one in Notice.State.values if one not in ("withdrawn", "refused", "voicemail"))
TO_COME = ("ready", "sending", "printed", "unsure")


def is_live(notice: Notice, treatment: Treatment) -> bool:
    """Whether it tells what is planned, and is on its way or came to whom it was for."""
    return notice.state in LIVE and not notice.came_wrong and still_holds(notice, treatment)


def may_serve(telling: Telling, live: Iterable[Notice]) -> bool:
    """Whether one of these may tell them. Once they are told and that does not serve, only another one does."""
    return any(telling.state != "wrong" or one.state in TO_COME for one in live)
