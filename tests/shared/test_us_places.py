"""States and counties of the United States by the names that people write."""

import pytest

from shared.us_places import new_york_county, state_code

COUNTIES = [
    ("Suffolk", "Suffolk"),
    ("Suffolk Co.", "Suffolk"),
    ("County of Suffolk", "Suffolk"),
    ("suffolk county, NY", "Suffolk"),
    ("Suffolk County, New York", "Suffolk"),
    ("Saint Lawrence", "St. Lawrence"),
    ("Brooklyn", "Kings"),
    ("Manhattan", "New York"),
    ("New York, NY", "New York"),
    ("Borough of Queens", "Queens"),
    ("the Bronx", "Bronx"),
    ("Richmond (Staten Island)", "Richmond"),
    ("N.Y.C.", "New York City"),
    ("Sufolk", None),
    ("Kings / Nassau", None),
    ("County", None),
    ("", None),
]


@pytest.mark.parametrize(("text", "county"), COUNTIES)
def test_a_county_of_new_york_is_read_in_its_usual_spellings_and_nothing_else_is(text, county):
    """From memory: the counties of New York and the boroughs of its city."""
    assert new_york_county(text) == county


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Oregon", "or"),
        ("OR", "or"),
        ("N.Y.", "ny"),
        ("new  york", "ny"),
        ("Washington, D.C.", "dc"),
        ("Orgon", None),
        ("BY", None),
        ("", None),
    ],
)
def test_a_state_is_read_by_its_name_or_its_two_letters(text, code):
    """From memory: the names and postal codes of the States."""
    assert state_code(text) == code
