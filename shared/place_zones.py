"""The time zones that places have, as the clocks there go. From memory."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from shared.times import read_zone

_PACIFIC, _MOUNTAIN, _ARIZONA = "America/Los_Angeles", "America/Denver", "America/Phoenix"
_CENTRAL, _EASTERN = "America/Chicago", "America/New_York"


def _states(zones: tuple[str, ...], names: str) -> dict[str, tuple[str, ...]]:
    return {f"us-{name}": zones for name in names.split()}


_ZONES: Mapping[str, tuple[str, ...]] = {
    **_states((_PACIFIC,), "ca wa"),
    **_states((_PACIFIC, _MOUNTAIN), "id nv or"),
    **_states((_MOUNTAIN,), "co mt nm ut wy"),
    **_states((_ARIZONA, _MOUNTAIN), "az"),
    **_states((_MOUNTAIN, _CENTRAL), "ks ne nd sd tx"),
    **_states((_CENTRAL,), "al ar ia il la mn mo ms ok wi"),
    **_states((_CENTRAL, _EASTERN), "fl in ky mi tn"),
    **_states((_EASTERN,), "ct dc de ga ma md me nc nh nj ny oh pa ri sc va vt wv"),
    **_states(("America/Anchorage", "America/Adak"), "ak"),
    **_states(("Pacific/Honolulu",), "hi"),
    "ca-bc": ("America/Vancouver", "America/Edmonton", "America/Creston", "America/Fort_Nelson"),
    "gb": ("Europe/London",),
    "ie": ("Europe/Dublin",),
    "de": ("Europe/Berlin",),
    "ch": ("Europe/Zurich",),
    "au-nsw": ("Australia/Sydney", "Australia/Broken_Hill", "Australia/Lord_Howe"),
}


def is_elsewhere(zone: str, places: Sequence[str], at: datetime) -> bool | None:
    """Whether no clock in these places shows what the zone's clock does at that moment; None where none of the
    places is known here. Places go from wide to narrow: `us`, `us-wa`, `us-wa-quill`."""
    shown = offsets_of(places, at)
    return at.astimezone(read_zone(zone)).utcoffset() not in shown if shown else None


def offsets_of(places: Sequence[str], at: datetime) -> frozenset[timedelta | None]:
    """What the clocks in these places are off UTC at that moment; empty where none of the places is known."""
    named = [f"{place}-" for place in places]
    known = [zones for place, zones in _ZONES.items() if any(one.startswith(f"{place}-") for one in named)]
    return frozenset(at.astimezone(read_zone(name)).utcoffset() for zones in known for name in zones)
