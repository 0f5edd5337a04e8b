import json

import pytest

from records.document.context import read_context
from tests.records.document.documents import FOLDER, changed, document, faults

CONTEXT = {
    "on": "2026-09-15",
    "earlier": [document("full"), document("stood-down")],
    "follow_ups": [{"schema": "follow-up/1", "kind": "copy-given", "at": "2026-09-15T08:00:00-07:00"}],
    "received_at": None,
    "neighbours": [
        {
            "name": "B. Lark",
            "address": {"line1": "6 Heron Row"},
            "distance": {"value": "20", "unit": "ft"},
            "abutting": True,
            "dwelling": True,
        }
    ],
    "registered_persons": [{"name": "C. Finch", "authority": "us-wa"}],
    "stock": [{"lot": "L-0457", "on_hand": {"value": "5", "unit": "gal"}}],
    "determinations": [
        {
            "question": "us-wa/structural",
            "answer": "yes",
            "by": "J. Quill",
            "advice": "the agency, by phone",
            "valid_from": "2026-01-01",
            "valid_to": "2026-12-31",
        }
    ],
    "permits": [{"authority": "de", "number": "X-1", "surfaces": ["walk"], "valid_to": "2026-12-31"}],
}


def test_a_context_reads_whole_and_as_the_example_has_it():
    assert read_context(json.dumps(CONTEXT)).stock[0].on_hand.value == "5"
    assert read_context((FOLDER / "example-context.json").read_bytes()).earlier == []


def test_each_member_may_be_left_out_and_absent_is_not_empty():
    assert read_context({}).neighbours is None
    assert read_context({"neighbours": []}).neighbours == []


@pytest.mark.parametrize(
    ("context", "message"),
    [
        ("[]", "context: expected an object with members (on, earlier, follow_ups,"),
        ("{", "context: this is not JSON: line 1, column 2 cannot be read"),
        ({"on": "15 September"}, "context.on: expected a day such as 2026-09-14, got 15 September"),
        ({"weather": {}}, "context.weather: unknown member; the members here are on, earlier,"),
        ({"stock": [{"lot": 7}]}, "context.stock[0].lot: expected text in quotation marks, got the number 7"),
        (
            {"neighbours": [{"distance": {"value": "2", "unit": "gal"}}]},
            "context.neighbours[0].distance: expected a length, got 2 gal",
        ),
        ({"neighbours": [{"authority": "us"}]}, "context.neighbours[0].authority: unknown member"),
        (
            {"permits": [{"surfaces": ["path"]}]},
            "context.permits[0].surfaces[0]: expected one of roof, gutter,",
        ),
        ({"earlier": [{"record": {}}]}, "context.earlier[0].schema: this must be there"),
        (
            {"earlier": [document(), changed({"weather.readings[0].by": "N. Obody"})]},
            'context.earlier[1].weather.readings[0].by: there is no "N. Obody" in people',
        ),
        ({"earlier": [changed({"people[0].name": 5})]}, "context.earlier[0].people[0].name: expected text"),
        ({"on": float("inf")}, "context.on: Infinity is not a JSON value"),
        ({"on": {"a": "b"}, "stock": 1}, 'context.on: expected text in quotation marks, got {"a": "b"}'),
    ],
)
def test_a_context_is_read_as_strictly_as_a_document(context, message):
    assert faults(context, read_context)[0].startswith(message)


def test_a_context_may_be_larger_than_a_document():
    earlier = [document()] * 300
    context = json.dumps({"earlier": earlier})
    assert len(context) > 1024 * 1024
    assert len(read_context(context).earlier) == 300


def test_a_context_of_more_than_32_mebibytes_is_refused():
    (message,) = faults(b" " * (32 * 1024 * 1024 + 1), read_context)
    assert message == "context: this is 33554433 bytes; at most 33554432 bytes are read"
