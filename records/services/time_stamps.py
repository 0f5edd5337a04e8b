"""Time-stamps by the authority that is set (TIME_STAMP_AUTHORITY): of a day's last head, and of papers."""

import logging
from collections.abc import Callable
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any

from cryptography.x509 import Certificate, load_pem_x509_certificates
from django.conf import settings
from django.core.cache import cache
from django.db import transaction

from records.models import AuditEntry, Firm, HeadTimeStamp, TreeHead
from records.services.audit import change, note
from shared import clock
from shared.canonical import canonical_bytes

logger = logging.getLogger(__name__)
SILENT = "time-stamp-authority-is-silent"
SECONDS_UNTIL_ASKED_AGAIN = 300


def roots() -> tuple[Certificate, ...]:
    """The authorities whose time-stamps count; none: whoever made one is taken at their word."""
    if not settings.TIME_STAMP_ROOTS:
        return ()
    return tuple(load_pem_x509_certificates(Path(settings.TIME_STAMP_ROOTS).read_bytes()))


def midnight(moment: datetime) -> datetime:
    """The first moment of its day; the log counts days in UTC."""
    return datetime.combine(moment.astimezone(UTC).date(), time(), UTC)


def time_stamp_last_head(firm: Firm) -> HeadTimeStamp | None:
    """Have the last head of the days that are over time-stamped, unless it is. Raises TimeStampError."""
    from shared.time_stamps import look_at, time_stamp

    head = TreeHead.objects.for_firm(firm).filter(made_at__lt=midnight(clock.now())).first()
    if head is None or HeadTimeStamp.objects.for_firm(firm).filter(head=head).exists():
        return None
    data = canonical_bytes(head.head)
    token = time_stamp(settings.TIME_STAMP_AUTHORITY, data, roots())
    found = look_at(token, data, roots())
    return _keep(firm, head, token, found.at, found.authority)


@transaction.atomic
def _keep(firm: Firm, head: TreeHead, token: bytes, at: datetime, authority: str) -> HeadTimeStamp:
    kept = HeadTimeStamp.objects.create(
        firm=firm, head=head, token=token, at=at, authority=authority[:500], received_at=clock.now()
    )
    changes = [change("head", None, str(head.size)), change("at", None, at.isoformat())]
    note(AuditEntry.Kind.CREATED, kept, firm=firm, changes=changes)
    return kept


def with_time_stamp(signed: Callable[..., bytes]) -> bytes:
    """What `signed(time_stamper=…)` makes; without a time-stamp where no authority is set, it is silent, or
    what it answers is no time-stamp that counts.

    Nobody waits for a paper longer than one time-out, and after that not for some minutes.
    """
    from shared.time_stamps import TimeStampError, authority

    address = settings.TIME_STAMP_AUTHORITY
    stamper: Any = authority(address, roots()) if address and not cache.get(SILENT) else None
    try:
        return signed(time_stamper=stamper)
    except TimeStampError as error:
        logger.warning("A paper was signed without a time-stamp: %s", error)
        cache.set(SILENT, True, SECONDS_UNTIL_ASKED_AGAIN)
        return signed(time_stamper=None)
