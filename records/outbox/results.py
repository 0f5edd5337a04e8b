"""What an attempt makes of a notice: its new state, the task for the office, the entry in the document."""

from datetime import datetime

from django.db import transaction

from records.models import Attempt, Notice, NoticeTask, User
from records.outbox.counting import REACHED
from records.outbox.in_document import write_into_document
from shared import clock

Kind, State, Task = Attempt.Kind, Notice.State, NoticeTask.Kind
STATES = {
    Kind.ACCEPTED: State.SENT,
    Kind.LATER: State.READY,
    Kind.REFUSED: State.REFUSED,
    Kind.TOO_LATE: State.REFUSED,
    Kind.SHOWN_ONLY: State.REFUSED,
    Kind.BROKEN_OFF: State.UNSURE,
    Kind.RETURNED: State.REFUSED,
    Kind.DELIVERED: State.DELIVERED,
    Kind.PRINTED: State.PRINTED,
    Kind.POSTED: State.SENT,
    Kind.HANDED_OVER: State.DELIVERED,
    Kind.SPOKEN: State.DELIVERED,
    Kind.VOICEMAIL: State.VOICEMAIL,
    Kind.NO_ANSWER: State.READY,
    Kind.WRONG_NUMBER: State.REFUSED,
    Kind.NOT_WANTED: State.REFUSED,
    Kind.AGAIN: State.READY,
    Kind.WITHDRAWN: State.WITHDRAWN,
}
TASKS = {
    Kind.REFUSED: Task.REFUSED,
    Kind.RETURNED: Task.REFUSED,
    Kind.WRONG_NUMBER: Task.REFUSED,
    Kind.TOO_LATE: Task.TOO_LATE,
    Kind.SHOWN_ONLY: Task.NO_SERVER,
    Kind.BROKEN_OFF: Task.UNSURE,
    Kind.NOT_WANTED: Task.NOT_WANTED,
}
SETTLES = {Kind.DELIVERED, Kind.HANDED_OVER, Kind.SPOKEN, Kind.AGAIN}
"""After these, nothing is left of a task that only says that the notice did not come. Who withdraws it has not
told the person another way."""
GOES_OUT = {
    **dict.fromkeys((Kind.ACCEPTED, Kind.BROKEN_OFF, Kind.POSTED, Kind.VOICEMAIL), True),
    **dict.fromkeys((Kind.DELIVERED, Kind.HANDED_OVER, Kind.SPOKEN), True),
    Kind.RETURNED: False,
}
"""After these it may have come to the person, or has not; all others leave that as it was."""
STAYS = (*REACHED, State.UNSURE)
"""What has gone out stays so, also where the person wants no other by this means."""
LONGEST_ANSWER = 2000


@transaction.atomic
def result(
    notice: Notice,
    kind: Attempt.Kind,
    answer: str = "",
    *,
    by: User | None = None,
    photo: str = "",
    at: datetime | None = None,
    next_try: datetime | None = None,
) -> Attempt:
    """Keep what happened, and what it makes of the notice. A notice that is delivered stays so when it is
    printed again."""
    moment = at or clock.now()
    notice.refresh_from_db(from_queryset=Notice.objects.for_firm(notice.firm).select_for_update())
    was = notice.state
    words = "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in answer)
    attempt = Attempt.objects.create(
        notice=notice, kind=kind, answer=words[:LONGEST_ANSWER], by=by, photo=photo, at=moment
    )
    if kind == Kind.PRINTED and notice.state in REACHED:
        return attempt
    if kind == Kind.AGAIN:
        notice.tries = 0
    notice.gone_out = GOES_OUT.get(kind, notice.gone_out)
    state = was if kind == Kind.NOT_WANTED and was in STAYS else STATES[kind]
    _become(notice, Notice.State(state), moment, next_try or moment)
    _tasks(notice, kind, words[:LONGEST_ANSWER], by)
    if {was, notice.state} & {*REACHED}:
        transaction.on_commit(lambda: write_into_document(notice))
    return attempt


def _become(notice: Notice, state: Notice.State, moment: datetime, next_try: datetime) -> None:
    """What went out again after it had come back has the times of the sending that counts."""
    was, notice.state = notice.state, state
    if state == State.READY:
        notice.next_try = next_try
    if state in REACHED and was not in REACHED:
        notice.sent_at = (was == State.UNSURE and notice.claimed_at) or moment
        notice.delivered_at = None
    if state == State.DELIVERED and was != State.DELIVERED:
        notice.delivered_at = moment
    notice.save()


def _tasks(notice: Notice, kind: Attempt.Kind, words: str, by: User | None) -> None:
    if kind in SETTLES:
        waiting = notice.tasks.filter(kind__in=TASKS.values(), done_at=None)
        waiting.update(done_at=clock.now(), done_by=by)
    elif kind in TASKS:
        task, new = NoticeTask.objects.for_firm(notice.firm).get_or_create(
            notice=notice, kind=TASKS[kind], defaults={"words": words, "firm": notice.firm}
        )
        if not new:
            task.words, task.at, task.done_at, task.done_by = words, clock.now(), None, None
            task.save()
