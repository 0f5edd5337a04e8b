"""Look at the time-stamps of a firm's log."""

from collections.abc import Iterator
from datetime import UTC, date

from cryptography.x509 import Certificate
from django.conf import settings

from records.models import Firm, HeadTimeStamp, TreeHead
from records.services.time_stamps import midnight, roots
from records.services.to_sign import CLOCKS_DIFFER_BY
from shared import clock
from shared.canonical import NotCanonicalError, canonical_bytes


def look_at_time_stamps(firm: Firm) -> Iterator[tuple[HeadTimeStamp, str]]:
    """Each time-stamp in the order of the log, with why it does not hold: `changed`, `of_other` head, or made
    by a `stranger`, or `early`, before the head that it is of was made; empty for one that does."""
    rows = HeadTimeStamp.objects.for_firm(firm).order_by("head__size").select_related("head")
    trusted = roots()
    for row in rows.iterator(500):
        yield row, _wrong(row, trusted)


def _wrong(row: HeadTimeStamp, trusted: tuple[Certificate, ...]) -> str:
    from shared.time_stamps import TimeStampError, look_at

    try:
        found = look_at(bytes(row.token), canonical_bytes(row.head.head), trusted)
    except TimeStampError as error:
        return error.why.replace("-", "_")
    except NotCanonicalError:
        return "of_other"
    if (found.at, found.authority[:500]) != (row.at, row.authority):
        return "changed"
    return "early" if found.at < row.head.made_at - CLOCKS_DIFFER_BY else ""


def days_without_time_stamp(firm: Firm) -> list[date]:
    """The days that are over, in UTC, on which something was entered and no head of which is time-stamped,
    where an authority is set. A stamp of a later day covers what they hold all the same."""
    if not settings.TIME_STAMP_AUTHORITY:
        return []
    heads = TreeHead.objects.for_firm(firm).filter(made_at__lt=midnight(clock.now()))
    days = {day.date() for day in heads.datetimes("made_at", "day", tzinfo=UTC)}
    stamped = heads.exclude(time_stamp=None).datetimes("made_at", "day", tzinfo=UTC)
    return sorted(days - {day.date() for day in stamped})
