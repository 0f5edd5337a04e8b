"""Shapes on the ground as GeoJSON (RFC 7946) has them: degrees on WGS 84, longitude before latitude. Pure.

What can't be a piece of ground is refused with a sentence that says what is wrong, before anything costly is
done with it: a file comes from strangers.
"""

import json
import reprlib
from collections.abc import Iterator
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from shared.wording import Blanks, Wording, say, shortened

MOST_POINTS = 10_000
"""Of one shape; a parcel has a few dozen, one along a river some thousand (common practice, no source)."""
MOST_DEGREES = 0.5
"""How far a shape may reach: some 50 km, beyond any parcel; distances around it stay exact."""
SAME_AS_WGS84 = (
    "urn:ogc:def:crs:OGC:1.3:CRS84",
    "urn:ogc:def:crs:OGC::CRS84",
    "urn:ogc:def:crs:EPSG::4326",
    "EPSG:4326",
)

WORDINGS = {
    "not_json": Wording("This is not JSON: {got}", "Esto no es JSON: {got}"),
    "not_geojson": Wording(
        "This is no shape in GeoJSON: expected an object with a type and coordinates, got {got}.",
        "Esto no es una forma en GeoJSON: se esperaba un objeto con type y coordinates, se recibió {got}.",
    ),
    "type": Wording(
        "A shape is a Polygon, MultiPolygon or Point, not {got}.",
        "Una forma es Polygon, MultiPolygon o Point, no {got}.",
    ),
    "other_system": Wording(
        "The coordinates are in another system ({got}). Have the file written in degrees on WGS 84.",
        "Las coordenadas están en otro sistema ({got}). Pida el archivo en grados WGS 84.",
    ),
    "not_a_position": Wording(
        "A position is two numbers, longitude and latitude; got {got}.",
        "Una posición son dos números, longitud y latitud; se recibió {got}.",
    ),
    "order": Wording(
        "Longitude and latitude look exchanged: {got}. In GeoJSON the longitude comes first.",
        "La longitud y la latitud parecen invertidas: {got}. En GeoJSON la longitud va primero.",
    ),
    "out_of_range": Wording(
        "These are no degrees: {got}. A longitude is from -180 to 180, a latitude from -90 to 90.",
        "Esto no son grados: {got}. Una longitud va de -180 a 180 y una latitud de -90 a 90.",
    ),
    "empty": Wording("The shape is empty.", "La forma está vacía."),
    "too_many_points": Wording(
        "The shape has more than {most} points.",
        "La forma tiene más de {most} puntos.",
    ),
    "too_large": Wording(
        "The shape reaches over more than {most} degrees: that is no parcel.",
        "La forma abarca más de {most} grados: eso no es una parcela.",
    ),
    "open_ring": Wording(
        "A ring has at least four positions, and ends where it began.",
        "Un anillo tiene al menos cuatro posiciones y termina donde empezó.",
    ),
    "crossing": Wording(
        "The boundary crosses or overlaps itself near {got}.",
        "El lindero se cruza o se solapa consigo mismo cerca de {got}.",
    ),
}


class ShapeError(ValueError):
    """What was given is no piece of ground; `say` tells why."""

    def __init__(self, wording_id: str, **blanks: str) -> None:
        super().__init__(say(WORDINGS, wording_id, blanks, "en"))
        self.wording_id = wording_id
        self.blanks: Blanks = blanks

    def say(self, language: str) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, language)


def parse(data: bytes | str) -> Any:
    """A JSON text without NaN and infinity, which JSON does not have. Raises ShapeError."""
    try:
        return json.loads(data, parse_constant=_no_number)
    except RecursionError as error:
        raise ShapeError("not_json", got="…[[[…") from error
    except ValueError as error:
        raise ShapeError("not_json", got=shortened(str(error))) from error


def read_shape(value: Any) -> BaseGeometry:
    """The shape in a parsed GeoJSON geometry. Raises ShapeError."""
    if not isinstance(value, dict) or "type" not in value:
        raise ShapeError("not_geojson", got=_shown(value))
    refuse_other_system(value)
    kind, coordinates = value["type"], value.get("coordinates")
    if kind not in ("Point", "Polygon", "MultiPolygon"):
        raise ShapeError("type", got=_shown(kind))
    if not isinstance(coordinates, list):
        raise ShapeError("not_geojson", got=_shown(coordinates))
    if not coordinates:
        raise ShapeError("empty")
    if kind == "Point":
        return shapely.Point(_position(coordinates))
    polygons = [coordinates] if kind == "Polygon" else coordinates
    budget = iter(range(MOST_POINTS))
    return _sound(_built(kind, polygons, budget))


def refuse_other_system(value: dict[str, Any]) -> None:
    """Raise ShapeError where a file of the older kind names other coordinates than degrees on WGS 84."""
    crs = value.get("crs")
    properties = crs.get("properties") if isinstance(crs, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else crs
    if name is not None and name not in SAME_AS_WGS84:
        raise ShapeError("other_system", got=_shown(name))


def exchanged(shape: BaseGeometry) -> BaseGeometry:
    """The shape as it would lie if longitude and latitude had been exchanged."""
    return shapely.transform(shape, lambda positions: positions[:, ::-1])


def _built(kind: str, polygons: list[Any], budget: Iterator[int]) -> BaseGeometry:
    made = []
    for rings in polygons:
        if not isinstance(rings, list) or not rings:
            raise ShapeError("empty" if rings == [] else "not_geojson", got=_shown(rings))
        outer, *holes = [_ring(each, budget) for each in rings]
        made.append(shapely.Polygon(outer, holes))
    return made[0] if kind == "Polygon" else shapely.MultiPolygon(made)


def _ring(ring: Any, budget: Iterator[int]) -> list[tuple[float, float]]:
    if not isinstance(ring, list):
        raise ShapeError("not_geojson", got=_shown(ring))
    positions = []
    for each in ring:
        if next(budget, None) is None:
            raise ShapeError("too_many_points", most=str(MOST_POINTS))
        positions.append(_position(each))
    if len(positions) < 4 or positions[0] != positions[-1]:
        raise ShapeError("open_ring")
    return positions


def _position(value: Any) -> tuple[float, float]:
    numbers = value[:2] if isinstance(value, list) else []
    if len(numbers) < 2 or not all(type(each) in (int, float) for each in numbers):
        raise ShapeError("not_a_position", got=_shown(value))
    longitude, latitude = numbers
    if abs(longitude) <= 90 < abs(latitude) <= 180:
        raise ShapeError("order", got=_shown(value))
    if not (abs(longitude) <= 180 and abs(latitude) <= 90):
        raise ShapeError("out_of_range", got=_shown(value))
    return float(longitude), float(latitude)


def _sound(shape: BaseGeometry) -> BaseGeometry:
    west, south, east, north = shape.bounds
    if max(east - west, north - south) > MOST_DEGREES:
        raise ShapeError("too_large", most=str(MOST_DEGREES))
    if not shapely.is_valid(shape):
        reason = shapely.is_valid_reason(shape)
        raise ShapeError("crossing", got=reason.partition("[")[2].rstrip("]") or reason)
    return shape


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number")


def _shown(value: Any) -> str:
    return shortened(reprlib.repr(value))
