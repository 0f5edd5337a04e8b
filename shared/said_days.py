"""Days as a person reads them, in each language. Pure."""

from collections.abc import Iterable
from datetime import date

from babel.dates import format_date

from shared.wording import Wording


def said_days(days: Iterable[date]) -> Wording:
    """`September 14, 2026, September 15, 2026`."""
    stated = list(days)
    en, es = (", ".join(format_date(day, "long", locale) for day in stated) for locale in ("en_US", "es_US"))
    return Wording(en, es)
