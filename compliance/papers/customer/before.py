"""What the customer is told before the work: what will happen, and how to get ready."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from compliance.papers.customer.content import CustomerPaper, Part, Telling, telling
from records.document.types import TreatmentDocument

_GROUND = {"walk", "drive", "patio", "deck"}
_UPRIGHT = {"wall", "fence"}
_STATED = ("date", "time", "place", "purpose", "products", "reentry")
_TO_DO = ("vegetable-garden", "beehive", "animal-area", "play-area", "air-intake", "well")
"""Features for which the customer does something."""
_OURS = ("pond", "rain-barrel", "downspout", "storm-drain", "planting-bed")
"""Features that the crew protects."""


def before(
    document: TreatmentDocument | bytes | str | dict[str, Any],
    language: str = "en",
    until: datetime | None = None,
) -> CustomerPaper:
    """The paper for a planned treatment. Raises DocumentFaults."""
    tell = telling(document, language)
    if until and tell.told.planned_at:
        tell = replace(tell, told=replace(tell.told, until=until.astimezone(tell.told.planned_at.tzinfo)))
    parts = (_happens(tell), _ready(tell), _protected(tell), _on_the_day(tell), tell.call())
    return tell.paper("before", tell.stated(_STATED), parts)


def _kinds(tell: Telling) -> set[str]:
    return {one.kind for one in tell.document.surfaces or () if one.kind}


def _features(tell: Telling) -> set[str]:
    site = tell.document.site
    return {one.kind for one in (site and site.features) or () if one.kind}


def _happens(tell: Telling) -> Part:
    kinds = _kinds(tell)
    names = ["happens-spray"]
    names += ["happens-roof"] if kinds & {"roof", "gutter"} else []
    names += ["happens-ground"] if kinds & _GROUND else []
    names += ["happens-lawn"] if "lawn" in kinds else []
    names += ["happens-wall"] if kinds & _UPRIGHT else []
    return Part(tell.say("happens"), tuple(tell.say(name) for name in names))


def _ready(tell: Telling) -> Part:
    features = _features(tell)
    always = ("ready-cars", "ready-toys", "ready-pets", "ready-windows", "ready-laundry", "ready-water")
    names = [*always, *(name for name in _TO_DO if name in features)]
    return Part(tell.say("ready"), tuple(tell.say(name) for name in names), ticked=True)


def _protected(tell: Telling) -> Part:
    features = _features(tell)
    features |= {"downspout"} if "gutter" in features else set()
    return Part(tell.say("protect"), tuple(tell.say(name) for name in _OURS if name in features))


def _on_the_day(tell: Telling) -> Part:
    return Part(tell.say("on-the-day"), (tell.say("talk"), tell.say("weather")))
