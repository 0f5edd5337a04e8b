"""Begin a turn of the worker at a file, where it is at the point for it."""

from typing import Any
from uuid import uuid4

from django.db import transaction

from records.models import ArrivalFile, AuditEntry, User
from records.permissions import demand
from records.services.audit import note
from records.services.bringing_in.files import PERMISSION, NotNowError
from shared import clock

State = ArrivalFile.State


def begin_look(file: ArrivalFile, by: User) -> None:
    """Raises PermissionDenied, NotNowError."""
    from records.tasks import look_at_arrival

    _begin(file, by, file.is_open, look_at_arrival, state=State.LOOKING, done=0, total=0, doubts=[], faults=[])


def begin_taking(file: ArrivalFile, by: User, good_alone: bool = False) -> None:
    """All rows, or the good ones alone. Raises PermissionDenied, NotNowError: of all rows none is faulty."""
    from records.tasks import bring_in_arrival

    ready = file.state == State.LOOKED
    ready = ready and file.good > 0 and (good_alone or not file.faulty)
    _begin(file, by, ready, bring_in_arrival, state=State.TAKING, taken_by=by, done=0)


def begin_undo(file: ArrivalFile, by: User) -> None:
    """Raises PermissionDenied, NotNowError."""
    from records.tasks import take_arrival_back

    ready = file.state == State.TAKEN or (file.state in (State.TAKING, State.UNDOING) and file.is_broken_off)
    _begin(file, by, ready, take_arrival_back, state=State.UNDOING, undone_by=by, done=0)


def go_on(file: ArrivalFile, tries: int = 0) -> None:
    """Let a turn that was broken off go on; one that is under way is looked after later.

    `tries` are those before, without a person.
    """
    from records import tasks

    task = {
        State.LOOKING: tasks.look_at_arrival,
        State.TAKING: tasks.bring_in_arrival,
        State.UNDOING: tasks.take_arrival_back,
    }.get(State(file.state))
    if task is not None and file.is_broken_off:
        _queue(file, task, tries + 1)
    elif task is not None:
        tasks.look_after_arrival_later(file, tries)


@transaction.atomic
def drop(file: ArrivalFile, by: User) -> None:
    """Nothing of it came in or stayed, and nothing of it is kept. Raises PermissionDenied, NotNowError."""
    demand(by, PERMISSION, file)
    if not file.is_open and file.state != State.UNDONE:
        raise NotNowError
    note(AuditEntry.Kind.REMOVED, file, firm=file.firm, by=by)
    file.delete()


def _begin(file: ArrivalFile, by: User, ready: bool, task: Any, **values: Any) -> None:
    demand(by, PERMISSION, file)
    if not ready:
        raise NotNowError
    _queue(file, task, 0, **values)


def _queue(file: ArrivalFile, task: Any, tries: int, **values: Any) -> None:
    """Queued first is what looks after it: a worker that dies must not leave it half done."""
    from records.tasks import look_after_arrival_later

    run = uuid4()
    same = ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk, run=file.run, state=file.state)
    if not same.update(run=run, noted_at=clock.now(), **values):
        raise NotNowError
    look_after_arrival_later(file, tries)
    task.enqueue(str(file.pk), str(file.firm_id), str(run))
