"""Addresses that are one house however they are spelled, and those that are not."""

import pytest

from shared.streets import folded_street, house_of, same_town, street_alone


@pytest.mark.parametrize(
    "spelled",
    [
        ("6 Heron Street",), ("6 HERON ST.",), ("6  heron str",), ("6 Heron St, Apt 2",), ("6 Heron St #3",),
        ("6 Heron Street", "Suite 12"), ("6 Héron Street",), ("6 Heron St Apt #4",), ("Apt 2", "6 Heron St"),
    ],
)  # fmt: skip
def test_one_house_is_one_however_it_is_spelled(spelled):
    assert folded_street(*spelled) == "6 heron st"


@pytest.mark.parametrize(
    "other", ["16 Heron Street", "6 Heron Road", "6 N Heron Street", "6a Heron Street", "6 Herons Street", ""]
)
def test_another_house_is_another(other):
    assert folded_street(other) != folded_street("6 Heron Street")


def test_words_of_a_spanish_address_are_one_in_short_and_in_full():
    assert folded_street("Avenida Norte 12") == folded_street("Ave. N 12")


def test_the_street_is_found_without_its_number():
    assert street_alone(folded_street("6 Heron Street")) == street_alone(folded_street("12b Heron St"))
    assert street_alone(folded_street("Calle Sol 12")) == street_alone("c sol")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (("Port Quill", "98000"), ("PORT QUILL", "98000-1234"), True),
        (("Port Quill", "98000"), ("Quill Harbor", "98000"), True),
        (("Port Quill", "98000"), ("port quill", "98001"), True),
        (("Port Quill", "98000"), ("Lanternwick", "97000"), False),
        (("", "98000"), ("", "97000"), False),
        (("", "98000"), ("Port Quill", ""), True),
        (("", ""), ("", ""), True),
    ],
)
def test_towns_are_one_by_number_or_by_name_and_may_be_where_nothing_is_said(one, other, same):
    assert same_town(*one, *other) is same
    assert same_town(*other, *one) is same


@pytest.mark.parametrize(
    "street",
    ["Heron Row", "Route 9", "State Route 9", "County Road 5", "Calle 5", "Avenida 12", "Rose Cottage", ""],
)
def test_a_street_without_the_number_of_a_house_is_no_house(street):
    assert house_of(street) == ""


@pytest.mark.parametrize(
    "house", ["6 Heron Row", "6b Heron Row", "Calle Sol 12", "12 Route 9", "6-2 Heron Row"]
)
def test_a_house_has_a_number(house):
    assert house_of(house) == folded_street(house)
