"""`erasure/1`: what a firm signs when it erases, after the term, what a record says of people."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.personal import PERSONAL
from records.document.signatures import plain_signature
from shared.times import read_time

ERASURE_SCHEMA = "erasure/1"
_A_DAY = timedelta(days=1)

Json = dict[str, Any]


def erasure(
    log: str,
    treatment: str,
    *,
    kept_until: date,
    under: Iterable[str],
    on: date,
    by: str | None,
    at: datetime,
    private: Ed25519PrivateKey,
) -> Json:
    """The statement that of this treatment all versions lose the sections that say something of people; `log`
    is the firm's id, and without `by` the machine's owner had it done."""
    stated: Json = {
        "schema": ERASURE_SCHEMA,
        "log": log,
        "treatment": treatment,
        "sections": sorted(PERSONAL),
        "kept_until": kept_until.isoformat(),
        "under": list(under),
        "on": on.isoformat(),
        "by": by,
        "at": at.isoformat(timespec="microseconds"),
    }
    return {**stated, "signatures": [plain_signature(stated, private)]}


def is_in_order(stated: Mapping[str, Any], log: str) -> bool:
    """Whether it is of this log, takes just what says something of people, after the term, and on the day on
    which it was signed. Raises ValueError, TypeError or KeyError for what can't be read."""
    on, kept_until = (date.fromisoformat(stated[name]) for name in ("on", "kept_until"))
    of_it = (stated["schema"], stated["log"], stated["sections"]) == (ERASURE_SCHEMA, log, sorted(PERSONAL))
    return of_it and on > kept_until and abs(read_time(stated["at"]).date() - on) <= _A_DAY
