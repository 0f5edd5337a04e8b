"""Files of people and parcels: all of one or nothing, the same twice changes nothing, a newer one replaces."""

import json
from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import AuditEntry, Neighbour, Parcel, PeopleFile, Register, RegisteredPerson
from records.services.people_files import FaultyFileError, drop, keep_file, look, take, taken_before
from shared.geodesy import relations
from shared.quantities import Quantity
from tests.factories import NeighbourFactory, SiteFactory
from tests.records.auditing.entries import newest
from tests.records.grounds import square

LIST = "Name,Street,Distance,Abutting\nB. Lark,6 Heron Row,20 ft,yes\nC. Wren,8 Heron Row,,\n"


@pytest.fixture
def site(firm):
    where = {"line1": "4 Heron Row", "latitude": "47.1001", "longitude": "-122.8998"}
    return SiteFactory(firm=firm, name="House at the corner", **where)


@pytest.fixture
def send(site, colleague):
    def send(text: str | bytes, kind: str = "neighbours", source: str = "walk", **asked) -> PeopleFile:
        data = text.encode() if isinstance(text, str) else text
        of = None if kind == "register" else site
        return keep_file(data, kind, source, date(2026, 9, 1), colleague.user, site.firm, of, **asked)

    return send


@pytest.fixture
def bring(send, colleague):
    return lambda *args, **asked: take(send(*args, **asked), colleague.user)


def neighbours(site) -> list[Neighbour]:
    return list(Neighbour.objects.for_firm(site.firm).filter(site=site))


def test_a_list_is_tried_and_nothing_is_written_until_it_is_taken(site, send, colleague):
    file = send(LIST)
    looked = look(file)
    assert looked.outcome.new == ["6 Heron Row, Port Quill", "8 Heron Row, Port Quill"]
    assert neighbours(site) == []
    assert take(file, colleague.user) == looked.outcome
    first, second = neighbours(site)
    assert (first.name, first.distance, first.abutting) == ("B. Lark", Quantity("20", "ft"), True)
    assert (second.postcode, second.distance, second.abutting) == ("98000", None, None)


def test_what_was_taken_keeps_its_digest_and_not_its_content(bring, send, site):
    bring(LIST)
    (file,) = PeopleFile.objects.for_firm(site.firm)
    assert (file.content, file.rows) == (None, 2)
    assert taken_before(send(LIST)) == file
    assert taken_before(send(LIST + "D. Rook,10 Heron Row,,\n")) is None


def test_the_same_file_twice_doubles_nothing(bring, site):
    bring(LIST)
    before = [(each.pk, each.name) for each in neighbours(site)]
    again = bring(LIST)
    assert (again.new, again.changed, again.gone, again.same) == ([], [], [], 2)
    assert [(each.pk, each.name) for each in neighbours(site)] == before


def test_a_newer_list_of_the_same_source_replaces_the_older_and_says_what_changed(bring, site):
    bring(LIST)
    kept = neighbours(site)[0].pk
    said = bring("Name,Street,Distance\nB. Lark,6 HERON ROW,30 ft\nD. Rook,10 Heron Row,\n")
    assert said.new == ["10 Heron Row, Port Quill"]
    assert said.changed == ["6 HERON ROW, Port Quill"]
    assert said.gone == ["8 Heron Row, Port Quill"]
    rows = {each.name: each for each in neighbours(site)}
    assert rows.keys() == {"B. Lark", "D. Rook"}
    assert (rows["B. Lark"].pk, rows["B. Lark"].abutting) == (kept, True)


def test_a_list_takes_out_neither_what_was_entered_nor_another_lists_rows(bring, site):
    NeighbourFactory(firm=site.firm, site=site, name="E. Finch", line1="12 Heron Row")
    bring(LIST)
    said = bring("Name,Street\nF. Crane,14 Heron Row\n", source="office")
    assert said.gone == []
    assert {each.name for each in neighbours(site)} == {"B. Lark", "C. Wren", "E. Finch", "F. Crane"}


def test_of_a_faulty_list_nothing_is_taken(send, site, colleague):
    file = send(LIST + "D. Rook,10 Heron Row,far,\n")
    assert [(each.row, each.column) for each in look(file).faults] == [(4, "Distance")]
    with pytest.raises(FaultyFileError):
        take(file, colleague.user)
    assert neighbours(site) == []
    assert PeopleFile.objects.for_firm(site.firm).get().content is not None


def test_columns_that_a_person_chose_outrank_the_guess(send, site, colleague):
    file = send("Who,Where\nB. Lark,6 Heron Row\n")
    assert [each.wording_id for each in look(file).faults] == ["no_address_column"]
    file.asked["columns"] = ["name", "line1"]
    take(file, colleague.user)
    assert [(each.name, each.line1) for each in neighbours(site)] == [("B. Lark", "6 Heron Row")]


def test_a_list_without_names_leaves_the_names_that_are_known(bring, site):
    bring(LIST)
    said = bring("Street\n6 Heron Row\n8 Heron Row\n")
    assert (said.new, said.changed, said.gone, said.same) == ([], [], [], 2)
    assert [each.name for each in neighbours(site)] == ["B. Lark", "C. Wren"]


def test_a_name_that_was_missing_is_filled_in_and_another_is_another_person(bring, site):
    bring("Street\n6 Heron Row\n")
    bring("Name,Street\nB. Lark,6 Heron Row\n")
    before = neighbours(site)
    assert [each.name for each in before] == ["B. Lark"]
    bring("Name,Street\nC. Wren,6 Heron Row\n")
    (after,) = neighbours(site)
    assert (after.name, after.pk == before[0].pk) == ("C. Wren", False)


def test_a_file_that_somebody_took_meanwhile_is_not_taken_again(site, send, colleague):
    file = send(LIST)
    take(PeopleFile.objects.for_firm(site.firm).get(pk=file.pk), colleague.user)
    with pytest.raises(FaultyFileError):
        take(file, colleague.user)
    assert len(neighbours(site)) == 2


def test_nothing_is_kept_of_a_file_that_is_dropped_but_who_dropped_it(send, site, colleague):
    drop(send(LIST), colleague.user)
    assert not PeopleFile.objects.for_firm(site.firm).exists()
    entry = newest(site.firm)
    assert (entry.kind, entry.thing, entry.by) == ("removed", "records.peoplefile", colleague.user)


def test_who_did_what_names_nobody_of_a_list(bring, site):
    bring(LIST)
    told = [
        f"{each.thing_name} {each.changes} {each.reason}" for each in AuditEntry.objects.for_firm(site.firm)
    ]
    assert any("walk" in each for each in told)
    assert not any("Lark" in each or "6 Heron" in each for each in told)


REGISTER = "Name,Address,City,Zip,Lat,Lon\nC. Finch,6 Heron Row,Port Quill,98000,,\nD. Crow,,,,47.1,-122.9\n"
OF_STATE = {"kind": "register", "source": "agency", "authority": "us-wa", "name": "Sensitive persons"}


def test_a_register_is_replaced_by_its_newer_list_and_stays_one(bring, site):
    assert len(bring(REGISTER, **OF_STATE).new) == 2
    assert bring(REGISTER, **OF_STATE).same == 2
    said = bring("Name,Address,City,Zip\nC. Finch,6 Heron Row,Port Quill,98000\n", **OF_STATE)
    assert (said.same, len(said.gone)) == (1, 1)
    register = Register.objects.for_firm(site.firm).get()
    assert [each.name for each in RegisteredPerson.objects.for_firm(site.firm).filter(register=register)] == [
        "C. Finch"
    ]


def parcels(*boxes, **addresses) -> bytes:
    features = [
        {
            "type": "Feature",
            "geometry": square(*box),
            "properties": {"apn": number, **({"address": addresses[number]} if number in addresses else {})},
        }
        for number, box in boxes
    ]
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


OWN, EAST, NORTH_EAST = ("own", (0, 0, 30, 40)), ("east", (30, 0, 60, 40)), ("ne", (30, 40, 60, 80))
ACROSS, FAR = ("across", (-42, 0, -12, 40)), ("far", (300, 0, 330, 40))
ALL = parcels(OWN, EAST, NORTH_EAST, ACROSS, FAR, own="4 Heron Row", east="6 Heron Row", ne="8 Heron Row")


def of_parcels(**asked):
    return {"kind": "parcels", "source": "county", "metres": "100", **asked}


def test_parcels_around_the_sites_own_become_neighbours_with_their_distance(bring, site):
    said = bring(ALL, **of_parcels(own="own"))
    assert len(said.new) == 5
    found = {
        row.parcel.number: (str(row.distance.value), row.abutting, row.touches_at_corner, row.line1)
        for row in neighbours(site)
    }
    assert found == {
        "east": ("0", True, False, "6 Heron Row"),
        "ne": ("0", True, True, "8 Heron Row"),
        "across": ("39.3", False, False, ""),
    }
    assert {row.known_by for row in neighbours(site)} == {"parcels"}
    assert neighbours(site)[0].distance.unit == "ft"


def test_without_an_own_parcel_distances_are_from_the_position_and_abutting_is_unknown(bring, site):
    bring(parcels(EAST, ACROSS), **of_parcels())
    found = {row.parcel.number: (row.abutting, row.known_by) for row in neighbours(site)}
    assert found == {"east": (None, "position"), "across": (None, "position")}


def test_without_either_nothing_is_taken(send, site):
    site.latitude = site.longitude = ""
    site.save()
    assert [each.wording_id for each in look(send(parcels(EAST), **of_parcels())).faults] == ["no_ground"]
    assert not Parcel.objects.for_firm(site.firm).exists()


def test_the_sites_own_parcel_is_suggested_by_address_or_position(send, site):
    assert look(send(ALL, **of_parcels())).suggested_own == "own"
    assert look(send(parcels(OWN, EAST), **of_parcels())).suggested_own == "own"
    assert look(send(parcels(EAST, FAR), **of_parcels())).suggested_own == ""


def test_an_own_parcel_that_is_not_in_the_file_is_refused(send):
    assert [each.wording_id for each in look(send(ALL, **of_parcels(own="none"))).faults] == ["no_such_parcel"]


def test_parcels_twice_double_nothing_and_a_newer_file_takes_out_what_is_gone(bring, site):
    bring(ALL, **of_parcels(own="own"))
    again = bring(ALL, **of_parcels(own="own"))
    assert (again.new, again.changed, again.gone, again.same) == ([], [], [], 5)
    assert len(neighbours(site)) == 3
    said = bring(parcels(OWN, ("east", (31, 0, 60, 40)), own="4 Heron Row"), **of_parcels(own="own"))
    assert (said.changed, sorted(said.gone)) == (["east"], ["across", "far", "ne"])
    assert [(row.parcel.number, row.abutting) for row in neighbours(site)] == [("east", False)]


def test_a_neighbour_who_is_there_already_is_joined_with_the_parcel_of_the_address(bring, site):
    row = NeighbourFactory(firm=site.firm, site=site, name="B. Lark", line1="6 HERON ROW")
    bring(ALL, **of_parcels(own="own"))
    row = Neighbour.objects.for_firm(site.firm).get(pk=row.pk)
    assert (row.parcel.number, row.abutting, row.known_by) == ("east", True, "parcels")
    assert len(neighbours(site)) == 3


def test_a_list_leaves_distances_that_were_worked_out(bring, site):
    bring(ALL, **of_parcels(own="own"))
    bring("Name,Street,Distance\n,6 Heron Row,90 ft\n")
    row = Neighbour.objects.for_firm(site.firm).get(line1="6 Heron Row")
    assert (row.distance, row.known_by) == (Quantity("0", "ft"), "parcels")


def test_a_name_is_given_to_no_nameless_row_of_a_street_without_a_number(bring, site):
    NeighbourFactory(
        firm=site.firm, site=site, line1="Heron Row", name="", city=site.city, postcode=site.postcode
    )
    assert len(bring("Name,Street\nB. Lark,Heron Row\n").new) == 1
    assert {each.name for each in neighbours(site)} == {"", "B. Lark"}


def test_before_parcels_are_taken_it_is_said_who_becomes_a_neighbour_and_who_does_not(send):
    outcome = look(send(ALL, **of_parcels(own="own"))).outcome
    assert outcome.listed == ["6 Heron Row (east)", "8 Heron Row (ne)", "parcel across, no address"]
    assert outcome.own == ["4 Heron Row (own)"]
    assert outcome.outside == ["parcel far, no address"]


def test_a_word_that_is_taken_for_another_is_told(send):
    text = (
        "Name,Street,Role\nB. Lark,6 Heron Row,tenant\nC. Wren,8 Heron Row,Owner\nD. Fink,9 Heron Row,tenant\n"
    )
    assert look(send(text)).taken_for == [("tenant", "occupant")]


MANY = "Name,Street\n" + "".join(f"B. Lark,{number} Heron Row\n" for number in range(10, 210))


@pytest.mark.parametrize(
    ("text", "asked"),
    [(MANY, {}), (REGISTER, OF_STATE), (ALL, {"kind": "parcels", "source": "county", "metres": "100"})],
    ids=["neighbours", "register", "parcels"],
)
def test_who_looks_at_a_file_keeps_nobody_from_writing(send, text, asked):
    file = send(text, **asked)
    with CaptureQueriesContext(connection) as asked_for:
        assert look(file).outcome
    assert {each["sql"].split(" ")[0] for each in asked_for} == {"SELECT"}


def test_grounds_are_measured_before_anything_is_locked(bring, monkeypatch):
    depths = []

    def watched(*asked):
        depths.append(len(connection.savepoint_ids))
        return relations(*asked)

    monkeypatch.setattr("shared.geodesy.relations", watched)
    monkeypatch.setattr("records.services.measuring.relations", watched)
    outside = len(connection.savepoint_ids)
    assert bring(ALL, **of_parcels(own="own")).listed
    assert set(depths) == {outside}


def test_a_list_of_two_hundred_is_taken_in_few_steps(bring, send, colleague, site):
    file = send(MANY)
    with CaptureQueriesContext(connection) as asked_for:
        take(file, colleague.user)
    assert len(asked_for) < 25
    assert len(neighbours(site)) == 200


def test_what_would_take_too_long_to_measure_is_said_so_and_not_taken(send, colleague, site, monkeypatch):
    monkeypatch.setattr("records.services.measuring.MOST_SECONDS", 0)
    file = send(ALL, **of_parcels(own="own"))
    assert [each.wording_id for each in look(file).faults] == ["takes_too_long"]
    with pytest.raises(FaultyFileError):
        take(file, colleague.user)
    assert not Parcel.objects.for_firm(site.firm).exists()


def test_a_file_of_too_many_points_in_all_is_refused(send, monkeypatch):
    monkeypatch.setattr("records.imports.parcels.MOST_POINTS", 20)
    assert [each.wording_id for each in look(send(ALL, **of_parcels())).faults] == ["too_many_points"]
