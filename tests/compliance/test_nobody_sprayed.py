"""A record on which nobody sprayed is no all-clear, wherever the site lies."""

import pytest

from tests.compliance.checked import by_rule, check
from tests.compliance.patched import load, patched

SPRAYER = "rulebook/people/sprayer"


@pytest.mark.parametrize("tasks", [[], ["mixed"]])
@pytest.mark.parametrize(
    "place", ["roof-in-new-york", "roof-in-florida", "roof-in-california", "roof-in-massachusetts"]
)
def test_what_was_applied_by_nobody_cant_be_told(place, tasks):
    document, context = load(f"facts/{place}.json"), load(f"facts/{place}.context.json")
    checked = check(patched(document, {"people": [{**document["people"][0], "tasks": tasks}]}), context)
    (found,) = by_rule(checked)[SPRAYER]
    assert (found["outcome"], found["level"], found["about"]) == ("cant_tell", "required", ["people[0].tasks"])
    assert checked["outcome"] in ("cant_tell", "not_met")


@pytest.mark.parametrize(
    "change",
    [
        {},
        {"people[0].tasks": None},
        {"timing.finished_at": None},
        {"record.result": "stood-down", "record.why": "wind", "mixes": None},
    ],
    ids=["sprayed", "tasks not stated", "not finished", "stood down"],
)
def test_it_is_asked_only_where_something_was_applied_and_tasks_are_stated(change):
    document, context = load("documents/example.json"), load("documents/example-context.json")
    assert SPRAYER not in by_rule(check(patched(document, change), context))
