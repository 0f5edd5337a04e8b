"""Which days are public holidays at a place: the one module that asks the `holidays` library.

Calendars are named like places. `us` holds the holidays of the federal government, 5 U.S.C. 6103(a), with the
days on which they are observed, 6103(b).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache

import holidays

from shared.wording import Wording


@dataclass(frozen=True)
class Calendar:
    """A calendar of the library: country, part of it, and what a person calls its holidays."""

    country: str
    part: str | None
    label: Wording


CALENDARS: Mapping[str, Calendar] = {
    "us": Calendar("US", None, Wording("US federal holidays", "feriados federales de EE. UU.")),
    "ca-bc": Calendar("CA", "BC", Wording("holidays of British Columbia", "feriados de Columbia Británica")),
    "au-nsw": Calendar(
        "AU", "NSW", Wording("holidays of New South Wales", "feriados de Nueva Gales del Sur")
    ),
    "gb-eng": Calendar("GB", "ENG", Wording("holidays of England", "feriados de Inglaterra")),
}


def is_holiday(calendar: str, day: date) -> bool:
    """Whether the day is a public holiday. Raises KeyError for a calendar that is not in the table."""
    return day in _of_year(calendar, day.year)


@cache
def _of_year(calendar: str, year: int) -> frozenset[date]:
    known = CALENDARS[calendar]
    return frozenset(holidays.country_holidays(known.country, subdiv=known.part, years=year))
