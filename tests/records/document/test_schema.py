import json

import pytest
from jsonschema import Draft202012Validator

from records.document.context import Context
from records.document.follow_up import FollowUp
from records.document.schema import json_schema
from tests.records.document.documents import FOLDER, NAMES, changed, document
from tests.records.document.test_reader import DAMAGED

_VALIDATOR = Draft202012Validator(json_schema())

# What the reader alone can say: things that hang together, and names that are kept elsewhere.
_BEYOND_SHAPE = (
    "is before the start",
    "there is no ",
    "is already the name of",
    "unknown time zone",
    "is wider than",
    "stands here twice",
    "expected a number from",
)


@pytest.mark.parametrize("part", [None, Context, FollowUp])
def test_the_schema_is_a_schema_of_2020_12(part):
    schema = json_schema(part) if part else json_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("name", NAMES)
def test_what_the_reader_takes_the_schema_takes(name):
    assert [error.message for error in _VALIDATOR.iter_errors(document(name))] == []


def test_the_schema_of_the_context_takes_the_example():
    context = json.loads((FOLDER / "example-context.json").read_text("utf-8"))
    assert [error.message for error in Draft202012Validator(json_schema(Context)).iter_errors(context)] == []


@pytest.mark.parametrize(("changes", "message"), DAMAGED, ids=[message[:60] for _, message in DAMAGED])
def test_the_schema_refuses_what_the_reader_refuses_where_it_can_say_it(changes, message):
    refused = not _VALIDATOR.is_valid(changed(changes))
    assert refused == (not any(words in message for words in _BEYOND_SHAPE))


@pytest.mark.parametrize("member", ["schema", "record"])
def test_the_schema_asks_for_schema_and_record_only(member):
    without = {name: value for name, value in document().items() if name != member}
    assert [error.message for error in _VALIDATOR.iter_errors(without)] == [
        f"'{member}' is a required property"
    ]


def test_the_schema_holds_a_limits_bounds_to_what_is_limited():
    limit = "mixes[0].products[0].label.limits[0]"
    assert _VALIDATOR.is_valid(changed({limit: {"of": "applications_per_year", "max": "2"}}))
    assert not _VALIDATOR.is_valid(changed({limit: {"of": "buffer", "min": {"value": "3", "unit": "gal"}}}))
    assert _VALIDATOR.is_valid(
        changed({limit: {"of": "temperature", "min": {"value": "-3", "unit": "degC"}, "max": None}})
    )
