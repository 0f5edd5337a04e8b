"""The ground of a site by its shape, and distances in the unit that the place reads."""

import json
from decimal import ROUND_FLOOR, Decimal

from shapely.geometry.base import BaseGeometry

from records.models import Parcel, Site
from shared.geojson import ShapeError, read_shape
from shared.quantities import Quantity

FEET = Decimal("0.3048")
"""Metres; exactly (the international foot of 1959)."""


def shape_of(parcel: Parcel) -> BaseGeometry:
    return read_shape(json.loads(parcel.shape))


def ground_of(site: Site) -> BaseGeometry | None:
    """The treated site's own parcel, else the point at which it lies, else None."""
    own = site.parcels.filter(own=True).first()
    return shape_of(own) if own else position_of(site.latitude, site.longitude)


def position_of(latitude: str, longitude: str) -> BaseGeometry | None:
    """A point, or None where it is not known."""
    try:
        return read_shape({"type": "Point", "coordinates": [float(longitude), float(latitude)]})
    except (ShapeError, ValueError):
        return None


def said_length(metres: float, country: str) -> Quantity:
    """In feet in the United States. Rounded down: nearer is the safer side of a distance."""
    exact = Decimal(metres)
    in_feet = country in ("US", "")
    length = (exact / FEET if in_feet else exact).quantize(Decimal("0.1"), rounding=ROUND_FLOOR)
    return Quantity(f"{length.normalize():f}", "ft" if in_feet else "m")
