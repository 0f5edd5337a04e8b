"""Which clocks a site may have, where its time zone is not stated and times are written in UTC."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from functools import partial

from compliance.rulebook.facts import Scope
from shared.place_zones import offsets_of

_FURTHEST_WEST, _FURTHEST_EAST = -12, 14
"""The clocks of the earth run from UTC-12 to UTC+14: from memory."""


def on_other_clocks(moments: Iterable[datetime], zone_stated: bool, scope: Scope) -> Iterator[Scope]:
    """The same scope on each clock that the site may have by its places. None if its zone is stated, or if no
    moment is written in UTC: then the offset is the site's."""
    written = list(moments)
    if zone_stated or not any(at.utcoffset() == timedelta(0) for at in written):
        return
    known = offsets_of(scope.facts.places or (), written[0])
    anywhere = (timedelta(hours=hours) for hours in range(_FURTHEST_WEST, _FURTHEST_EAST + 1))
    for offset in sorted(known or anywhere, key=lambda one: one or timedelta(0)):
        clock = timezone(offset or timedelta(0))
        yield scope.but(facts=replace(scope.facts, local=partial(_on, clock)))


def _on(clock: timezone, moment: datetime) -> datetime:
    return moment.astimezone(clock) if moment.tzinfo else moment.replace(tzinfo=clock)
