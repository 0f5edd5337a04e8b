"""Whom the rules hear of: nobody's silence counts as an empty list, and no name goes out."""

from datetime import date

import pytest

from records.document.context import read_context
from records.document.types import LIST_ITEMS
from records.models import Neighbour, NeighbourList
from records.people_near import neighbours_of, registered_near
from shared.quantities import Quantity
from tests.factories import (
    NeighbourFactory,
    RegisteredPersonFactory,
    RegisterFactory,
    SiteFactory,
)
from tests.records.grounds import parcel_of


@pytest.fixture
def site(firm):
    return SiteFactory(firm=firm, latitude="47.1", longitude="-122.9")


@pytest.fixture
def complete(site, member) -> NeighbourList:
    return NeighbourList.objects.create(firm=site.firm, site=site, as_of=date(2026, 9, 1), by=member.user)


@pytest.fixture
def register(firm):
    return RegisterFactory(firm=firm)


def test_without_a_word_that_the_list_is_complete_nobody_knows_the_neighbours(site):
    NeighbourFactory(firm=site.firm, site=site)
    assert neighbours_of(site) is None


def test_an_empty_list_that_is_complete_is_knowledge(site, complete):
    assert neighbours_of(site) == []


def test_the_rules_hear_where_neighbours_are_and_no_name(site, complete):
    row = NeighbourFactory(
        firm=site.firm,
        site=site,
        line1="6 Heron Row",
        distance=Quantity("20", "ft"),
        abutting=True,
        dwelling=None,
    )
    (said,) = neighbours_of(site)
    assert said == {
        "id": str(row.pk),
        "address": {
            "line1": "6 Heron Row", "city": "Port Quill", "region": "WA", "postcode": "98000", "country": "US",
        },
        "distance": {"value": "20", "unit": "ft"},
        "abutting": True,
    }  # fmt: skip
    assert read_context({"neighbours": [said]}).neighbours[0].distance == Quantity("20", "ft")


def test_neighbours_stand_in_walking_order_and_another_sites_do_not(site, complete):
    last = NeighbourFactory(firm=site.firm, site=site, walk=2)
    first = NeighbourFactory(firm=site.firm, site=site, walk=1)
    NeighbourFactory(firm=site.firm)
    assert [each["id"] for each in neighbours_of(site)] == [str(first.pk), str(last.pk)]


def test_more_neighbours_than_the_rules_can_take_are_not_told_in_part(site, complete):
    firm = site.firm
    Neighbour.objects.bulk_create([Neighbour(firm=firm, site=site) for _ in range(LIST_ITEMS + 1)])
    assert neighbours_of(site) is None


def test_without_a_register_of_the_place_nobody_knows_who_is_registered(site, firm):
    RegisterFactory(firm=firm, authority="us-ny")
    assert registered_near(site) is None


def test_a_countys_register_does_not_stand_for_the_states(site, firm):
    site.jurisdictions = ["us", "us-wa", "us-wa-quill"]
    RegisterFactory(firm=firm, authority="us-wa-quill")
    assert registered_near(site) is None


def test_an_empty_register_of_the_place_is_knowledge(site, register):
    assert registered_near(site) == []


def test_another_firms_register_is_none_of_ours(site):
    RegisterFactory()
    assert registered_near(site) is None


def test_a_person_at_a_neighbours_address_is_where_the_neighbour_is(site, register):
    NeighbourFactory(
        firm=site.firm, site=site, line1="6 Heron Street", distance=Quantity("20", "ft"), abutting=True
    )
    person = RegisteredPersonFactory(firm=site.firm, register=register, line1="6 HERON ST., Apt 2")
    (said,) = registered_near(site)
    assert said["id"] == str(person.pk)
    assert said["authority"] == "us-wa"
    assert said["distance"] == {"value": "20", "unit": "ft"}
    assert said["abutting"] is True
    assert "C. Finch" not in str(said)


def test_a_person_at_the_site_itself_counts_as_touching_it(site, register):
    RegisteredPersonFactory(firm=site.firm, register=register, line1=site.line1)
    (said,) = registered_near(site)
    assert (said["distance"], said["abutting"]) == ({"value": "0", "unit": "ft"}, True)


def test_a_person_in_a_street_of_the_list_may_be_a_neighbour_who_is_spelled_otherwise(site, register, complete):
    RegisteredPersonFactory(firm=site.firm, register=register, line1="8 Heron Row")
    (said,) = registered_near(site)
    assert "abutting" not in said
    assert "distance" not in said


def test_two_addresses_without_the_number_of_a_house_are_not_known_to_be_one_door(site, register, complete):
    row = {"firm": site.firm, "line1": "Heron Row"}
    NeighbourFactory(site=site, distance=Quantity("20", "ft"), abutting=True, **row)
    RegisteredPersonFactory(register=register, **row)
    (said,) = registered_near(site)
    assert "distance" not in said
    assert "abutting" not in said


def test_a_person_elsewhere_in_town_abuts_only_where_the_list_is_not_complete(site, register, member):
    RegisteredPersonFactory(firm=site.firm, register=register, line1="6 Wren Lane")
    assert "abutting" not in registered_near(site)[0]
    NeighbourList.objects.create(firm=site.firm, site=site, as_of=date(2026, 9, 1), by=member.user)
    assert registered_near(site)[0]["abutting"] is False


def test_a_person_of_another_town_is_not_near(site, register):
    RegisteredPersonFactory(firm=site.firm, register=register, city="Lanternwick", postcode="97000")
    assert registered_near(site) == []


@pytest.mark.parametrize(("longitude", "feet"), [("-122.899", "249"), ("-122.9", "0")])
def test_a_position_tells_how_far_a_person_is(site, register, longitude, feet):
    where = {"latitude": "47.1", "longitude": longitude, "city": "Lanternwick", "postcode": "97000"}
    RegisteredPersonFactory(firm=site.firm, register=register, line1="1 Far Road", **where)
    (said,) = registered_near(site)
    assert said["distance"]["value"].partition(".")[0] == feet
    assert "abutting" not in said


def test_a_position_beyond_two_kilometres_is_not_near(site, register):
    where = {"latitude": "47.1", "longitude": "-122.87"}
    RegisteredPersonFactory(firm=site.firm, register=register, line1="1 Far Road", **where)
    assert registered_near(site) == []


def test_a_position_on_a_neighbours_parcel_is_as_near_as_the_parcel(site, register):
    parcel_of(site, "own", (0, 0, 30, 40), own=True)
    for number, box, feet, abuts in (
        ("beside", (30, 0, 60, 40), "0", True),
        ("across", (72, 0, 90, 40), "137", False),
    ):
        parcel = parcel_of(site, number, box)
        NeighbourFactory(
            firm=site.firm, site=site, parcel=parcel, distance=Quantity(feet, "ft"), abutting=abuts
        )
    for longitude in ("-122.8998", "-122.8994", "-122.8990"):
        on = {"latitude": "47.1001", "longitude": longitude, "line1": "1 Far Road"}
        RegisteredPersonFactory(firm=site.firm, register=register, **on)
    near = [(each["distance"]["value"], each["abutting"]) for each in registered_near(site)]
    assert near == [("0", True), ("0", True), ("137", False)]


def test_the_nearest_stand_first_and_those_of_unknown_distance_last(site, register):
    for longitude in ("", "-122.898", "-122.899"):
        where = {"latitude": "47.1" if longitude else "", "longitude": longitude}
        RegisteredPersonFactory(firm=site.firm, register=register, line1="1 Far Road", **where)
    near = registered_near(site)
    assert ["distance" in each for each in near] == [True, True, False]
    assert float(near[0]["distance"]["value"]) < float(near[1]["distance"]["value"])
