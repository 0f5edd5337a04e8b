"""Have another program told when something happens, try it, and put an end to it."""

from collections.abc import Iterable

from django.db import transaction
from django.db.models import QuerySet

from records.hooks.signing import secret_of
from records.hooks.tasks import tell_soon
from records.models import AuditEntry, Firm, Hook, HookCall, User
from records.permissions import demand
from records.services.audit import change, note
from shared import clock

PERMISSION = "records.keep_hooks"
MOST = 10


class TooManyHooksError(ValueError):
    """The firm has as many as it may."""


def hooks_of(firm: Firm) -> QuerySet[Hook]:
    return Hook.objects.for_firm(firm).filter(ended_at=None).select_related("by")


@transaction.atomic
def make_hook(firm: Firm, by: User, name: str, address: str, events: Iterable[str]) -> Hook:
    """Raises PermissionDenied and TooManyHooksError."""
    demand(by, PERMISSION, firm)
    Firm.objects.for_firm(firm).select_for_update().get()
    if hooks_of(firm).count() >= MOST:
        raise TooManyHooksError(name)
    hook = Hook.objects.create(firm=firm, by=by, name=name, address=address, events=sorted(events))
    changes = [change("address", None, address), change("events", None, hook.events)]
    note(AuditEntry.Kind.CREATED, hook, firm=firm, by=by, changes=changes)
    return hook


@transaction.atomic
def end_hook(hook: Hook, by: User) -> None:
    """What still waits for it is told no more. Raises PermissionDenied."""
    demand(by, PERMISSION, hook)
    if hook.ended_at is None:
        hook.ended_at = clock.now()
        hook.save(update_fields=["ended_at"])
        note(AuditEntry.Kind.REMOVED, hook, firm=hook.firm, by=by)


@transaction.atomic
def renew_secret(hook: Hook, by: User) -> str:
    """Another secret in place of the one before, which signs nothing from now on. Raises PermissionDenied."""
    demand(by, PERMISSION, hook)
    locked = Hook.objects.for_firm(hook.firm).select_for_update().get(pk=hook.pk)
    before, locked.renewals = locked.renewals, locked.renewals + 1
    locked.save(update_fields=["renewals"])
    note(
        AuditEntry.Kind.CHANGED, locked, firm=hook.firm, by=by,
        changes=[change("renewals", before, locked.renewals)],
    )  # fmt: skip
    return secret_of(locked)


@transaction.atomic
def try_hook(hook: Hook, by: User) -> HookCall:
    """Tell it that it is a trial; one that waits is told now. Raises PermissionDenied."""
    demand(by, PERMISSION, hook)
    Hook.objects.for_firm(hook.firm).select_for_update().get(pk=hook.pk)
    transaction.on_commit(lambda: tell_soon(hook.firm))
    event = Hook.Event.TRIAL.value
    waiting = HookCall.objects.for_firm(hook.firm).filter(hook=hook, event=event, state=HookCall.State.WAITING)
    if there := waiting.first():
        waiting.update(next_try=clock.now())
        return there
    body = {"event": event, "at": clock.now().isoformat(timespec="seconds"), "about": {}}
    return HookCall.objects.create(firm=hook.firm, hook=hook, event=event, body=body)
