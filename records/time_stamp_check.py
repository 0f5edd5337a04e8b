"""Look at the time-stamps of a firm's log."""

from collections.abc import Iterator

from cryptography.x509 import Certificate

from records.models import Firm, HeadTimeStamp
from records.services.time_stamps import roots
from shared.canonical import NotCanonicalError, canonical_bytes


def look_at_time_stamps(firm: Firm) -> Iterator[tuple[HeadTimeStamp, str]]:
    """Each time-stamp in the order of the log, with why it does not hold: `changed`, `of_other` head, or made
    by a `stranger`; empty for one that does."""
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
    return "" if (found.at, found.authority[:500]) == (row.at, row.authority) else "changed"
