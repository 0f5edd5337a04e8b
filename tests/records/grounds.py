"""Parcels that are drawn in metres east and north of a place."""

import json
import math

from geographiclib.geodesic import Geodesic

from records.models import Parcel, Site

PLACE = (47.1, -122.9)
Box = tuple[float, float, float, float]


def at(east: float, north: float) -> list[float]:
    turned = math.degrees(math.atan2(east, north))
    found = Geodesic.WGS84.Direct(*PLACE, turned, math.hypot(east, north))
    return [round(found["lon2"], 8), round(found["lat2"], 8)]


def square(west: float, south: float, east: float, north: float) -> dict:
    corners = [(west, south), (east, south), (east, north), (west, north), (west, south)]
    return {"type": "Polygon", "coordinates": [[at(*corner) for corner in corners]]}


def parcel_of(site: Site, number: str, box: Box, own: bool = False) -> Parcel:
    shape = square(*box)
    (west, south), (east, north) = shape["coordinates"][0][0], shape["coordinates"][0][2]
    reach = {"west": west - 1e-6, "south": south - 1e-6, "east": east + 1e-6, "north": north + 1e-6}
    return Parcel.objects.create(
        firm=site.firm, site=site, number=number, shape=json.dumps(shape), own=own, **reach
    )
