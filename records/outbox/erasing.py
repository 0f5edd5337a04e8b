"""Erase who was told and what a notice said. Digest, means and times stay: they show that it went out."""

from collections.abc import Iterable
from datetime import timedelta

from django.db import transaction
from django.db.models import QuerySet

from records.models import (
    Attempt,
    Firm,
    KeptBytes,
    LegalHold,
    Notice,
    NoticeErasure,
    NoticeFile,
    NoticeTask,
    Treatment,
)
from shared import clock

KEPT_WITHOUT_RECORD = timedelta(days=366)
"""After the planned day, where nothing was ever signed."""


@transaction.atomic
def erase_notices(notices: Iterable[Notice]) -> int:
    """Erase those that are not erased yet; how many they were."""
    count = 0
    for notice in notices:
        NoticeErasure.objects.create(firm=notice.firm, notice=notice)
        Attempt.objects.for_firm(notice.firm).filter(notice=notice).exclude(answer="").update(answer="")
        NoticeTask.objects.for_firm(notice.firm).filter(notice=notice).delete()
        _empty(notice)
        count += 1
    return count


def erase_notices_of(treatment: Treatment) -> int:
    return erase_notices(_whole(treatment.firm).filter(treatment=treatment))


def erase_old_notices(firm: Firm) -> int:
    """Those of treatments that were never signed and are long past; a hold keeps them."""
    past = _whole(firm).filter(
        treatment__state=Treatment.State.DRAFT,
        treatment__planned_at__lt=clock.now() - KEPT_WITHOUT_RECORD,
        planned_at__lt=clock.now() - KEPT_WITHOUT_RECORD,
    )
    held = LegalHold.objects.for_firm(firm).filter(lifted=None)
    return erase_notices(past.exclude(treatment__in=held.values("treatment")))


def _whole(firm: Firm) -> QuerySet[Notice]:
    return Notice.objects.for_firm(firm).filter(erasure=None).select_related("firm")


def _empty(notice: Notice) -> None:
    files = NoticeFile.objects.for_firm(notice.firm)
    held = list(files.filter(notice=notice).values_list("kept", flat=True))
    files.filter(notice=notice).delete()
    KeptBytes.objects.for_firm(notice.firm).filter(pk__in=held, files=None).delete()
    notice.name = notice.email = notice.phone = notice.subject = notice.text = ""
    notice.address, notice.row = [], None
    if notice.state in (Notice.State.READY, Notice.State.SENDING, Notice.State.PRINTED):
        notice.state = Notice.State.WITHDRAWN
    notice.save()
