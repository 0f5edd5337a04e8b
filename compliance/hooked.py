"""What hooks are told of checks and of requests for records, in the transaction of what it tells."""

from typing import Any

from django.db.models.signals import post_save
from django.dispatch import receiver

from compliance.models import RecordsRequest, RequestAnswer, StoredCheck
from records.hooks.noting import note_event
from records.models import Hook

Event = Hook.Event
Outcome = StoredCheck.Outcome
OPEN = (Outcome.NOT_MET, Outcome.CANT_TELL)


@receiver(post_save, sender=StoredCheck)
def check_stored(instance: StoredCheck, created: bool, **_kwargs: Any) -> None:
    if created and instance.outcome in OPEN:
        findings = instance.stored["findings"]
        rules = {each["rule"] for each in findings if each["outcome"] == instance.outcome}
        note_event(
            instance.firm, Event.FINDING, treatment=str(instance.treatment_id), outcome=str(instance.outcome),
            rules=sorted(rules), digest=instance.digest,
        )  # fmt: skip


@receiver(post_save, sender=RecordsRequest)
def request_changed(instance: RecordsRequest, created: bool, **_kwargs: Any) -> None:
    if created or instance.closed_at:
        happened = "taken-in" if created else "closed"
        note_event(instance.firm, Event.REQUEST, request=str(instance.pk), happened=happened)


@receiver(post_save, sender=RequestAnswer)
def request_answered(instance: RequestAnswer, created: bool, **_kwargs: Any) -> None:
    if created:
        note_event(
            instance.firm, Event.REQUEST, request=str(instance.request_id), happened="answered",
            digest=instance.digest,
        )  # fmt: skip
