"""Places: which packs cover a site, and where a check would leave out a law unsaid.

A place implies the wider ones that it lies in: `us-wa-king` lies in `us-wa` and in `us`, so that a list that
names a state alone still applies the country's packs.
"""

from collections.abc import Iterable, Sequence
from datetime import date

from compliance.rulebook.pack import ANYWHERE, Pack

FEDERAL = ("au", "ca", "us")
"""Countries whose states make law of their own on this trade; elsewhere the country's pack is taken to cover
its parts."""


def widened(places: Sequence[str]) -> tuple[str, ...]:
    """The places with those that they imply, each once, from wide to narrow."""
    parts = (place.split("-") for place in places)
    return tuple(dict.fromkeys("-".join(part[: n + 1]) for part in parts for n in range(len(part))))


def covering(packs: Iterable[Pack], places: Sequence[str], day: date | None) -> list[Pack]:
    """The packs that cover one of the places, or a place that it implies, and those of any place, on the day
    (on any day, if unknown): from wide to narrow, in whatever order they come."""
    here = {*widened(places), ANYWHERE}
    found = [pack for pack in packs if pack.place in here and (day is None or pack.span.holds(day))]
    return sorted(found, key=lambda pack: (pack.place != ANYWHERE, pack.place.count("-"), pack.id))


def not_covered(places: Sequence[str], covered: Iterable[Pack]) -> list[str]:
    """The places, stated or implied, that no pack covers, or one only in part, from wide to narrow."""
    held = {pack.place for pack in covered if not pack.in_part}
    return [place for place in widened(places) if place not in held]


def is_wide(place: str) -> bool:
    """Whether a place is a country, or a state of a federal one, whose law no check may leave out unsaid."""
    country, *within = place.split("-")
    return len(within) < (2 if country in FEDERAL else 1)


def without_a_state(places: Sequence[str]) -> list[str]:
    """The federal countries among the places, stated or implied, of which no state is named."""
    known = widened(places)
    return [country for country in known if country in FEDERAL and not _within(country, known)]


def _within(country: str, places: Sequence[str]) -> list[str]:
    return [place for place in places if place.startswith(f"{country}-")]
