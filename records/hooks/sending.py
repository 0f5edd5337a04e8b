"""Tell one hook of one event, and keep what came of it; later and later, and then no more."""

import json
from datetime import datetime, timedelta
from http import HTTPStatus
from urllib.parse import urlsplit

from django.conf import settings
from django.db import transaction
from django.db.models import Exists, F, Min, OuterRef, Q, QuerySet

from records.hooks.signing import secret_of, signature
from records.models import Firm, Hook, HookCall
from records.outbox.guarded_post import NotAskedError, guarded_post
from shared import clock

SECONDS = 10
WAITS = [timedelta(minutes=each) for each in (1, 5, 30, 120, 360, 720, 1440)]
"""Between the tries; after the last of them it is given up."""
LONGEST_SENDING = timedelta(minutes=5)
"""After so long whoever claimed it is taken for dead, and it is told again: twice rather than never."""
TAKEN = range(200, 300)
ANSWERED = "HTTP "
"""So begins what is kept of an answer, whichever."""
State = HookCall.State


def tell_next(firm: Firm) -> HookCall | None:
    """Tell what is due first; None where nothing is."""
    call = _claim(firm)
    if call is None:
        return None
    if call.hook.ended_at:
        _settle(call, State.GIVEN_UP, "ended")
        return call
    _keep(call, *_told(call))
    return call


def waiting_of(firm: Firm) -> QuerySet[HookCall]:
    return HookCall.objects.for_firm(firm).filter(state=State.WAITING)


def due(firm: Firm) -> QuerySet[HookCall]:
    """What can be told now. A hook that gave no answer rests until it is tried again: each try costs seconds
    of a worker that all firms share. A trial is told all the same."""
    now = clock.now()
    unanswered = waiting_of(firm).filter(hook=OuterRef("hook"), tries__gt=0, next_try__gt=now)
    rests = unanswered.exclude(answer__startswith=ANSWERED).exclude(event=Hook.Event.TRIAL)
    tellable = waiting_of(firm).filter(next_try__lte=now)
    return tellable.filter(Q(event=Hook.Event.TRIAL) | ~Exists(rests)).order_by("-tries", "next_try", "pk")


def next_due(firm: Firm) -> datetime | None:
    """When there may be something to tell; None when all is settled."""
    if due(firm).exists():
        return clock.now()
    later = waiting_of(firm).filter(next_try__gt=clock.now())
    return later.aggregate(first=Min("next_try"))["first"]


def was_no_answer(call: HookCall) -> bool:
    return call.state == State.WAITING and not call.answer.startswith(ANSWERED)


def _told(call: HookCall) -> tuple[bool, str, bool]:
    """Whether it was taken, what was answered, and whether it is of no use to ask again."""
    body = json.dumps({"id": str(call.pk), **call.body}, separators=(",", ":"), sort_keys=True).encode()
    stamp = str(int(clock.now().timestamp()))
    headers = {
        "Content-Type": "application/json",
        "Webhook-Id": str(call.pk),
        "Webhook-Timestamp": stamp,
        "Webhook-Signature": signature(secret_of(call.hook), str(call.pk), stamp, body),
    }
    try:
        status = guarded_post(
            urlsplit(call.hook.address), body, headers, seconds=SECONDS, anywhere=settings.HOOKS_ANYWHERE
        )
    except NotAskedError as error:
        return False, str(error), error.for_good
    except OSError as error:
        return False, str(error) or type(error).__name__, False
    return status in TAKEN, f"{ANSWERED}{status}", status == HTTPStatus.GONE


@transaction.atomic
def _claim(firm: Firm) -> HookCall | None:
    """One at a time; while it is told, nobody else takes it."""
    found = due(firm).select_for_update(skip_locked=True, of=("self",)).first()
    if found is None:
        return None
    same = HookCall.objects.for_firm(firm).filter(pk=found.pk)
    same.update(tries=F("tries") + 1, next_try=clock.now() + LONGEST_SENDING)
    return HookCall.objects.for_firm(firm).select_related("firm", "hook").get(pk=found.pk)


def _keep(call: HookCall, taken: bool, answer: str, for_good: bool) -> None:
    if taken:
        _settle(call, State.TOLD, answer)
        _rested(call.hook)
    elif for_good or call.tries > len(WAITS):
        _settle(call, State.GIVEN_UP, answer)
        if for_good:
            _end(call.hook, answer)
    else:
        call.next_try, call.answer = clock.now() + WAITS[call.tries - 1], answer[:200]
        call.save(update_fields=["next_try", "answer"])


def _rested(hook: Hook) -> None:
    """It answers again: what it gave no answer to is told now."""
    unanswered = waiting_of(hook.firm).filter(hook=hook, next_try__gt=clock.now(), tries__gt=0)
    unanswered.exclude(answer__startswith=ANSWERED).update(next_try=clock.now())


def _settle(call: HookCall, state: str, answer: str) -> None:
    call.state, call.settled_at, call.answer = state, clock.now(), answer[:200]
    call.save(update_fields=["state", "settled_at", "answer"])


def _end(hook: Hook, why: str) -> None:
    """The other side says that it is gone, or the address can never be asked."""
    hook.ended_at, hook.ended_why = clock.now(), why[:200]
    hook.save(update_fields=["ended_at", "ended_why"])
