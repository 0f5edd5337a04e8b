"""What an example changes, and what it says of a change that can't be made."""

import pytest

from compliance.example_patches import ExampleError, patch


def test_members_are_set_added_and_taken_out_as_typed():
    document = {"site": {"name": "House"}, "people": [{"name": "R. Osei"}]}
    patch(document, "site.indoors", "yes")
    patch(document, "people[1]", {"name": "J. Quill", "tasks": ["sprayed"]})
    patch(document, "mixes[0].applied", "14 gal")
    patch(document, "site.name", "null")
    assert document == {
        "site": {"name": None, "indoors": True},
        "people": [{"name": "R. Osei"}, {"name": "J. Quill", "tasks": ["sprayed"]}],
        "mixes": [{"applied": {"value": "14", "unit": "gal"}}],
    }


@pytest.mark.parametrize(
    ("path", "value", "en"),
    [
        ("site.colour", "red", "site.colour is no member of a record"),
        ("site..name", "x", "site..name is no member of a record"),
        ("people[4].name", "x", "people[4].name: the list has no such item"),
        ("people[-1].name", "x", "people[-1].name: the list has no such item"),
        ("people[first].name", "x", "people[first].name: the list has no such item"),
        ("people", "x", "people takes no single value"),
        ("site", ["x"], "site is not a list"),
        ("surfaces[0].treated_area", "14 gal", "surfaces[0].treated_area: expected an area, got 14 gal"),
    ],
)
def test_a_change_that_cannot_be_made_is_said_in_words(path, value, en):
    with pytest.raises(ExampleError) as refused:
        patch({"people": [{"name": "R. Osei"}]}, path, value)
    assert refused.value.say("en") == en
    assert refused.value.say("es")
