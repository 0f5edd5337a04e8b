"""Have a file made with everything of a firm, and let go of it after some days."""

import logging
from typing import Any

from django.db import transaction

from records.backup.archive import half_of
from records.backup.wordings import BackupError
from records.leaving.taking_out import REASON, written_to
from records.models import AuditEntry, Firm, User, WayOut
from records.permissions import demand
from records.services.audit import note
from records.services.photo_store import make_private_folder
from shared import clock
from shared.digests import file_digest

PERMISSION = "records.take_out"
State = WayOut.State
logger = logging.getLogger(__name__)


class UnderWayError(RuntimeError):
    """One is being made already."""


def begin(firm: Firm, by: User) -> WayOut:
    """Earlier files go: each holds everything once more. Raises PermissionDenied, UnderWayError."""
    from records.tasks import look_after_way_out_later, make_way_out

    demand(by, PERMISSION, firm)
    with transaction.atomic():
        Firm.objects.for_firm(firm).select_for_update().get()
        for row in WayOut.objects.for_firm(firm).filter(state=State.MAKING):
            if not row.is_broken_off:
                raise UnderWayError
            _end(row, State.FAILED)
        row = WayOut.objects.create(firm=firm, by=by)
        note(AuditEntry.Kind.EXPORTED, firm, firm=firm, by=by, reason=REASON)
    for earlier in WayOut.objects.for_firm(firm).exclude(pk=row.pk):
        let_go(earlier)
    make_way_out.enqueue(str(row.pk), str(firm.pk))
    look_after_way_out_later(row)
    return row


def look_after(row: WayOut) -> None:
    """One whose worker died is told to have failed, and what it wrote goes: it holds everything of the firm.
    Who wants it has it made again."""
    from records.tasks import look_after_way_out_later

    if row.is_broken_off and _end(row, State.FAILED):
        logger.error("Everything of %s was being written and broke off.", row.firm)
        let_go(row)
    elif row.is_under_way:
        look_after_way_out_later(row)


def make(row: WayOut) -> None:
    """What the worker does. A row that was held for broken off meanwhile stays so."""
    make_private_folder(row.path.parent)
    begun_at = clock.now()
    try:
        written = written_to(row.firm, row.path, lambda done, of: _tell(row, done, of))
    except BackupError as error:
        logger.exception("Everything of %s could not be written: %s", row.firm, error.say("en"))
        _end(row, State.FAILED)
        return
    finally:
        row.far_path.unlink(missing_ok=True)
    made = {"made_at": begun_at, "size": row.path.stat().st_size, "digest": file_digest(row.path)}
    made |= {"entries": written.entries, "root": written.root, "damaged": written.damaged}
    if not _end(row, State.MADE, **made):
        let_go(row)


def let_go(row: WayOut) -> None:
    for path in (row.path, half_of(row.path), row.far_path):
        path.unlink(missing_ok=True)


def let_go_of_old(firm: Firm) -> None:
    for row in WayOut.objects.for_firm(firm).exclude(state=State.MAKING):
        if not row.is_there:
            let_go(row)


def _tell(row: WayOut, done: int, of: int) -> None:
    row.far_path.write_text(f"{done} {of}")


@transaction.atomic
def _end(row: WayOut, state: State, **values: Any) -> bool:
    """Whether it was still being made."""
    locked = WayOut.objects.for_firm(row.firm).select_for_update().get(pk=row.pk)
    if not locked.is_under_way:
        return False
    for name, value in {"state": state, **values}.items():
        setattr(locked, name, value)
    locked.save(update_fields=["state", *values])
    return True
