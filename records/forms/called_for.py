"""The protection steps that a site's features and the labels in the mix call for.

Which feature calls for which step: common practice, no source. What the rules demand is said beside the steps.
"""

from collections.abc import Mapping
from typing import Any

from records.document.paths import values_at

_ALWAYS = ("people-told-on-arrival",)
_FOR_FEATURE = {
    "storm-drain": ("storm-drains-covered",),
    "downspout": ("downspouts-diverted",),
    "gutter": ("gutters-cleared",),
    "pond": ("ponds-covered",),
    "stream": ("runoff-collected", "overspray-shielded"),
    "lake": ("runoff-collected", "overspray-shielded"),
    "shore": ("runoff-collected", "overspray-shielded"),
    "wetland": ("runoff-collected", "overspray-shielded"),
    "well": ("runoff-collected",),
    "rain-barrel": ("rain-barrels-disconnected",),
    "planting-bed": ("plants-pre-wet", "plants-rinsed"),
    "vegetable-garden": ("plants-covered", "plants-rinsed"),
    "lawn": ("plants-pre-wet",),
    "play-area": ("toys-and-furniture-moved", "area-closed-off"),
    "animal-area": ("animals-brought-in",),
    "beehive": ("overspray-shielded",),
    "air-intake": ("air-intakes-closed",),
    "neighbour-boundary": ("overspray-shielded",),
}


def steps_called_for(document: Mapping[str, Any]) -> frozenset[str]:
    """The words of the steps; telling people on arrival is always among them."""
    kinds = (kind for _path, kind in values_at(document, "site.features[].kind"))
    of_site = {step for kind in kinds for step in _FOR_FEATURE.get(kind, ())}
    asked = (steps for _path, steps in values_at(document, "mixes[].products[].label.protection"))
    return frozenset(of_site.union(_ALWAYS, *asked))
