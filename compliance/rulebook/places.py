"""Places: which packs cover a site, and where a check would leave out a law unsaid.

A place implies the wider ones that it lies in: `us-wa-king` lies in `us-wa` and in `us`, so that a list that
names a state alone still applies the country's packs. What stands behind the state is one name, however many
words it has: `us-ny-new-york-city` lies in no `us-ny-new-york`.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache

from compliance.rulebook.pack import ANYWHERE, Pack

FEDERAL = ("au", "ca", "us")
"""Countries whose states make law of their own on this trade; elsewhere the country's pack is taken to cover
its parts."""
_LAW_OF_ITS_OWN = ("gb-nir",)
"""Parts of other countries that the country's law on this trade leaves out: in Northern Ireland the European
Regulation itself applies."""
_PLACES_AT_HAND = 1000
_OF_TWO_WORDS = ("us-indian-country",)
"""Places beside a country's states whose names have a hyphen of their own."""


def widened(places: Sequence[str]) -> tuple[str, ...]:
    """The places with those that they imply, each once, from wide to narrow."""
    return tuple(dict.fromkeys(level for place in places for level in _levels(place)))


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
    """Whether a place is a country, a state of a federal one, or a part with a law of its own, whose law no
    check may leave out unsaid."""
    if place in _LAW_OF_ITS_OWN:
        return True
    country, *within = _levels(place)
    return len(within) < (2 if country in FEDERAL else 1)


def without_a_state(places: Sequence[str]) -> list[str]:
    """The federal countries among the places, stated or implied, of which no state is named."""
    known = widened(places)
    return [country for country in known if country in FEDERAL and not _within(country, known)]


def _within(country: str, places: Sequence[str]) -> list[str]:
    return [place for place in places if place.startswith(f"{country}-")]


@lru_cache(maxsize=_PLACES_AT_HAND)
def _levels(place: str) -> tuple[str, ...]:
    """The country, its state, and what lies in that: `us`, `us-wa`, `us-wa-king`."""
    first_two = "-".join(place.split("-")[:2])
    state = next((long for long in _OF_TWO_WORDS if f"{place}-".startswith(f"{long}-")), first_two)
    return tuple(dict.fromkeys((place.split("-")[0], state, place)))
