"""Parcels of a GeoJSON file: each feature as a number, a shape and an address, and what is wrong with it."""

import json
from dataclasses import dataclass, field
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from records.imports.cells import read_cell
from records.imports.columns import guessed
from records.imports.faults import FileError, FileFault, refused
from records.imports.people import ADDRESS
from shared.geodesy import ELLIPSOID
from shared.geojson import ShapeError, exchanged, parse, read_shape, refuse_other_system

MOST_MEGABYTES = 20
MOST_PARCELS = 5_000
MOST_POINTS = 250_000
"""Of all shapes; five thousand parcels with the few dozen that each has (common practice, no source)."""
FARTHEST = 50_000.0
"""Metres; a file with a parcel that is further from the site is the wrong one, or its numbers are exchanged."""
_TAKEN = ("number", "name", "house", *ADDRESS, "dwelling")


@dataclass(frozen=True)
class ParcelEntry:
    number: str
    shape: BaseGeometry
    text: str
    """The geometry as it stood in the file."""
    about: dict[str, Any] = field(default_factory=dict)
    """Its address, and the name and whether it is a dwelling, where the file says so."""


def read_parcels(data: bytes, site: BaseGeometry | None) -> tuple[list[ParcelEntry], list[FileFault]]:
    """The parcels and the faults of all features; of a file that is none, FileError is raised."""
    faults: list[FileFault] = []
    entries: list[ParcelEntry] = []
    seen: set[str] = set()
    points = 0
    for place, feature in enumerate(_features(data), start=1):
        try:
            entry = _entry(feature, place)
            if entry.number in seen:
                raise refused("same_number", number=entry.number)
            _refuse_far(entry.shape, site)
            points += shapely.get_num_coordinates(entry.shape)
        except FileError as error:
            faults += [FileFault(each.wording_id, each.blanks, place, "", each.got) for each in error.faults]
        else:
            seen.add(entry.number)
            entries.append(entry)
        if points > MOST_POINTS:
            raise refused("too_many_points", most=str(MOST_POINTS))
    return entries, faults


def _features(data: bytes) -> list[Any]:
    if len(data) > MOST_MEGABYTES * 1_000_000:
        raise refused("too_big", most=str(MOST_MEGABYTES))
    try:
        file = parse(data)
        if isinstance(file, dict):
            refuse_other_system(file)
    except ShapeError as error:
        raise refused("shape", why=error) from error
    features = file.get("features") if isinstance(file, dict) else None
    if not isinstance(features, list) or file.get("type") != "FeatureCollection":
        raise refused("no_collection")
    if not features:
        raise refused("no_rows")
    if len(features) > MOST_PARCELS:
        raise refused("too_many_rows", most=str(MOST_PARCELS))
    return features


def _entry(feature: Any, place: int) -> ParcelEntry:
    if not isinstance(feature, dict) or feature.get("type") != "Feature":
        raise refused("no_feature")
    try:
        shape = read_shape(feature.get("geometry"))
    except ShapeError as error:
        raise refused("shape", why=error) from error
    if not shape.area:
        raise refused("point")
    about = _about(feature.get("properties"))
    number = about.pop("number", "") or _id(feature.get("id")) or str(place)
    geometry = {name: feature["geometry"][name] for name in ("type", "coordinates")}
    return ParcelEntry(number, shape, json.dumps(geometry, separators=(",", ":")), about)


def _id(value: Any) -> str:
    """A feature's own id as a parcel's number: a text or a number (RFC 7946, section 3.2)."""
    if value is None:
        return ""
    if type(value) not in (str, int, float):
        raise refused("no_id")
    text = str(value).strip()
    return str(read_cell("number", text)) if text else ""


def _about(properties: Any) -> dict[str, Any]:
    if not isinstance(properties, dict):
        return {}
    cells = {str(name): value for name, value in properties.items() if type(value) in (str, int, float, bool)}
    members = zip(guessed(list(cells), _TAKEN), cells.values(), strict=True)
    texts = {member: str(value).strip() for member, value in members if member}
    about = {member: read_cell(member, text) for member, text in texts.items() if text}
    if house := about.pop("house", ""):
        about["line1"] = f"{house} {about.get('line1', '')}".strip()
    return about


def _refuse_far(shape: BaseGeometry, site: BaseGeometry | None) -> None:
    if site is None or (away := _metres(shape, site)) <= FARTHEST:
        return
    may_be_a_latitude = max(abs(shape.bounds[0]), abs(shape.bounds[2])) <= 90
    if may_be_a_latitude and _metres(exchanged(shape), site) <= FARTHEST:
        raise refused("order")
    raise refused("far", km=str(round(away / 1000)))


def _metres(shape: BaseGeometry, site: BaseGeometry) -> float:
    here, there = site.envelope.centroid, shape.envelope.centroid
    return float(ELLIPSOID.inv(here.x, here.y, there.x, there.y)[2])
