"""The worker's turn at a bundle: it is written anew from its beginning, but what was drawn before is kept.

A worker that dies leaves the sheets that it drew; the next turn takes them and goes on.
"""

import logging
import shutil
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from functools import partial
from typing import Any
from uuid import UUID

from django.db import transaction

from compliance.models import Handing
from compliance.request_bundle.contents import Contents
from compliance.request_bundle.folder import (
    beside_of,
    file_of,
    folder_of,
    half_of,
    make_folder,
    opened,
    remove,
    sheets_of,
)
from compliance.tasks import drop_handing_later
from records.bundle.writer import Content, NothingToBundleError, newest_head, write_bundle
from records.models import TreeHead
from records.services.handing_over import left_out, note_handed_over
from shared import clock
from shared.digests import file_digest

logger = logging.getLogger(__name__)
A_MOMENT = timedelta(seconds=1)
State = Handing.State


class OverrunError(Exception):
    """Another turn has begun meanwhile, or the bundle is not wanted any more."""


def make(handing: Handing, run: UUID) -> None:
    """Take the turn to its end; one that was overrun by another ends without a word."""
    turn = Turn(handing, run)
    try:
        turn.make()
    except OverrunError:
        turn.leave()
    except NothingToBundleError:
        turn.end(State.FAILED)
    except Exception:
        logger.exception("The bundle %s could not be made", handing.pk)
        turn.end(State.FAILED)


class Turn:
    def __init__(self, handing: Handing, run: UUID) -> None:
        self.handing, self.run = handing, run
        self.said_at = clock.now()

    def make(self) -> None:
        handing = self.handing
        head = self._begin()
        make_folder(folder_of(handing))
        half = half_of(handing)
        with closing(Contents(handing)) as contents, opened(half) as out:
            write_bundle(
                handing.firm,
                [UUID(each) for each in handing.treatments],
                out,
                left_out(handing.withheld),
                contents.beside,
                photos=handing.photos,
                head=head,
                after=partial(self._heard_of, contents),
                noted=self._noted,
            )
            size = out.tell()
        found = {"size": size, "digest": file_digest(half), "named_still": contents.still.found}
        half.replace(file_of(handing))
        with transaction.atomic():
            self.note(state=State.READY, ready_at=clock.now(), **found)
            drop_handing_later(handing)
        for folder in (sheets_of(handing), beside_of(handing)):
            shutil.rmtree(folder, ignore_errors=True)

    def note(self, **values: Any) -> None:
        """Say how far it is. Raises OverrunError where the turn is another's by now."""
        under_way = (State.WAITING, State.MAKING)
        own = Handing.objects.for_firm(self.handing.firm).filter(
            pk=self.handing.pk, run=self.run, state__in=under_way
        )
        if not own.update(noted_at=clock.now(), **values):
            raise OverrunError
        for name, value in values.items():
            setattr(self.handing, name, value)

    def end(self, state: State) -> None:
        try:
            self.note(state=state)
        except OverrunError:
            self.leave()

    def leave(self) -> None:
        """Nothing stays of what is not wanted any more."""
        rows = Handing.objects.for_firm(self.handing.firm).filter(pk=self.handing.pk)
        if rows.filter(state=State.GONE).exists():
            remove(self.handing)

    @transaction.atomic
    def _begin(self) -> TreeHead | None:
        """The head of the log that the bundle goes by, the same in each turn; and what is taken out is noted,
        once."""
        handing = self.handing
        heads = TreeHead.objects.for_firm(handing.firm)
        if handing.log_size is not None:
            self.note(state=State.MAKING)
            return heads.get(size=handing.log_size)
        head = newest_head(handing.firm)
        if head is None:
            raise NothingToBundleError("the log is empty")
        self.note(state=State.MAKING, log_size=head.size)
        treatments = [UUID(each) for each in handing.treatments]
        note_handed_over(handing.firm, treatments, left_out(handing.withheld), handing.by, "")
        return head

    def _heard_of(self, contents: Contents) -> Iterator[tuple[str, Content]]:
        """What comes last may be many papers: the turn is not to be held for broken off meanwhile."""
        for each in contents.after():
            if clock.now() - self.said_at >= A_MOMENT:
                self.said_at = clock.now()
                self.note()
            yield each

    def _noted(self, done: int, of_all: int) -> None:
        """Not each version: telling would take longer than making."""
        if done in (1, of_all) or clock.now() - self.said_at >= A_MOMENT:
            self.said_at = clock.now()
            self.note(done=done, of_all=of_all)
