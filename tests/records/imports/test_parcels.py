"""Parcel shapes of a file: each feature read or told, and a file that would take too long refused."""

import json

import pytest
import shapely

from records.imports.faults import FileError
from records.imports.parcels import MOST_PARCELS, read_parcels
from tests.records.grounds import square

SITE = shapely.Point(-122.9, 47.1)


def feature(geometry=None, **properties) -> dict:
    return {"type": "Feature", "geometry": geometry or square(0, 0, 30, 40), "properties": properties}


def file(*features, **more) -> bytes:
    return json.dumps({"type": "FeatureCollection", "features": list(features), **more}).encode()


def test_a_parcel_has_its_number_address_and_shape():
    entries, faults = read_parcels(
        file(
            feature(APN="12-3", SitusAddress="6 Heron Row", City="Port Quill", owner_name="B. Lark", Acres=0.3)
        ),
        SITE,
    )
    assert faults == []
    assert entries[0].number == "12-3"
    assert entries[0].about == {"line1": "6 Heron Row", "city": "Port Quill", "name": "B. Lark"}
    assert json.loads(entries[0].text) == square(0, 0, 30, 40)


def test_a_parcel_without_a_number_is_numbered_by_its_id_or_its_place():
    entries, _ = read_parcels(file({**feature(), "id": 77}, feature(square(30, 0, 60, 40))), SITE)
    assert [each.number for each in entries] == ["77", "2"]


@pytest.mark.parametrize("of", [lambda bad: {"id": bad}, lambda bad: {"properties": {"apn": bad, "name": bad}}])
@pytest.mark.parametrize("bad", ["a\ud800b", "a\0b", "x" * 101])
def test_an_id_or_a_number_that_nothing_can_keep_is_told_and_taken_by_no_name(bad, of):
    entries, faults = read_parcels(file({**feature(), **of(bad)}), SITE)
    assert entries == []
    assert [each.wording_id for each in faults] == ["too_long" if len(bad) > 3 else "control"]


@pytest.mark.parametrize("bad", [{"a": 1}, [1], True])
def test_an_id_that_is_neither_text_nor_number_is_told(bad):
    assert [each.wording_id for each in read_parcels(file({**feature(), "id": bad}), SITE)[1]] == ["no_id"]


def test_every_faulty_feature_is_told_and_the_sound_ones_are_read():
    exchanged = {"type": "Polygon", "coordinates": [[[y, x] for x, y in square(0, 0, 9, 9)["coordinates"][0]]]}
    far = {"type": "Polygon", "coordinates": [[[0, 1], [0.1, 1], [0.1, 1.1], [0, 1]]]}
    entries, faults = read_parcels(
        file(
            feature(apn="a"), feature(apn="a"), "x", {"type": "Feature"}, feature(exchanged), feature(far),
            feature({"type": "Point", "coordinates": [-122.9, 47.1]}),
        ),
        SITE,
    )  # fmt: skip
    assert [each.number for each in entries] == ["a"]
    assert [(each.row, each.wording_id) for each in faults] == [
        (2, "same_number"), (3, "no_feature"), (4, "shape"), (5, "shape"), (6, "far"), (7, "point"),
    ]  # fmt: skip
    assert all(each.say("en") and each.say("es") for each in faults)


def test_numbers_that_are_exchanged_and_both_degrees_are_found_by_where_the_site_is():
    ring = [[28.0, -80.0], [28.001, -80.0], [28.001, -80.001], [28.0, -80.0]]
    _, faults = read_parcels(file(feature({"type": "Polygon", "coordinates": [ring]})), shapely.Point(-80, 28))
    assert [each.wording_id for each in faults] == ["order"]
    assert read_parcels(file(feature({"type": "Polygon", "coordinates": [ring]})), None)[1] == []


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        (b"", "shape"),
        (b"[]", "no_collection"),
        (json.dumps(feature()).encode(), "no_collection"),
        (file(), "no_rows"),
        (file(feature(), crs={"type": "name", "properties": {"name": "EPSG:2927"}}), "shape"),
        (file(*["x"] * (MOST_PARCELS + 1)), "too_many_rows"),
        (b" " * 20_000_001, "too_big"),
    ],
)
def test_a_file_that_is_none_is_refused(data, fault):
    with pytest.raises(FileError) as refused:
        read_parcels(data, SITE)
    assert refused.value.faults[0].wording_id == fault
