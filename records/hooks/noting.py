"""Note an event for each hook that wants it, in the transaction of what it tells: neither without the other."""

from typing import Any

from django.db import transaction
from django.db.models.signals import post_save

from records.models import Attempt, Firm, Hook, HookCall, SignedRecord
from shared import clock

Event = Hook.Event


def note_event(firm: Firm, event: str, **about: str | int | list[str]) -> None:
    """`about` names rows by their ids. The worker is told once the deed is done."""
    hooks = [each for each in Hook.objects.for_firm(firm).filter(ended_at=None) if event in each.events]
    if not hooks:
        return
    body = {"event": event, "at": clock.now().isoformat(timespec="seconds"), "about": about}
    for hook in hooks:
        HookCall.objects.create(firm=firm, hook=hook, event=event, body=body)
    transaction.on_commit(lambda: _tell_soon(firm))


def record_signed(instance: SignedRecord, created: bool, **_kwargs: Any) -> None:
    """A receiver of `post_save`."""
    if created:
        event = Event.SIGNED if instance.kind == SignedRecord.Kind.SIGNED else Event.CORRECTED
        note_event(
            instance.firm, event, treatment=str(instance.treatment_id), version=instance.version,
            kind=instance.kind, digest=instance.digest,
        )  # fmt: skip


def notice_changed(instance: Attempt, created: bool, **_kwargs: Any) -> None:
    """A receiver of `post_save`."""
    if created:
        notice = instance.notice
        note_event(
            instance.firm, Event.NOTICE, notice=str(notice.pk), treatment=str(notice.treatment_id),
            happened=instance.kind,
        )  # fmt: skip


def connect() -> None:
    post_save.connect(record_signed, sender=SignedRecord, dispatch_uid="hooks: records")
    post_save.connect(notice_changed, sender=Attempt, dispatch_uid="hooks: notices")


def _tell_soon(firm: Firm) -> None:
    from records.hooks.tasks import tell_soon

    tell_soon(firm)
