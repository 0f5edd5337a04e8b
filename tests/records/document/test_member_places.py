"""A person is told which member is meant by its words and the items around it, never by its path."""

import pytest

from records.document.member_places import member_said

FIRST = "0a0a0a0a-0000-4000-8000-000000000001"
SECOND = "0a0a0a0a-0000-4000-8000-000000000002"
LINE = "0a0a0a0a-0000-4000-8000-000000000003"
DOCUMENT = {
    "weather": {"readings": [{"id": FIRST}, {"id": SECOND}]},
    "surfaces": [{"id": FIRST, "name": "North slope"}],
    "mixes": [{"id": FIRST, "products": [{"id": LINE, "name": "Mossgone 3"}]}],
}


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("notes", "Notes"),
        ("timing.started_at", "Spraying started"),
        ("customer.address.city", "City (Customer)"),
        (f"weather.readings[{SECOND}].temperature", "Air temperature (Weather readings 2)"),
        (f"weather.readings[{SECOND}]", "Weather readings 2"),
        (f"surfaces[{FIRST}].treated_area", "Treated area (Surfaces: North slope)"),
        (f"mixes[{FIRST}].products[{LINE}].lot", "Lot (Mixes 1, Products: Mossgone 3)"),
        (f"mixes[{FIRST}].products[{LINE}]", "Products: Mossgone 3 (Mixes 1)"),
    ],
)
def test_a_member_is_told_by_its_words_and_its_items(path, said):
    assert member_said(path, "en", [DOCUMENT]) == said


def test_an_item_that_only_one_document_has_is_told_as_it_stands_there():
    path = f"surfaces[{SECOND}].treated_area"
    other = {"surfaces": [{"id": SECOND, "name": "Walk"}]}
    assert member_said(path, "es", [DOCUMENT, other]) == "Superficie tratada (Superficies: Walk)"
    assert member_said(path, "es", [DOCUMENT]) == "Superficie tratada (Superficies)"
