"""What other rules of the firm would have said of the records that it has."""

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from compliance.services import what_if_runs
from compliance.services.own_rules import save_rule, take_into_use
from compliance.services.what_if_runs import begin
from records.document.edits import Edit
from records.services.drafts import edit_draft
from tests.compliance.own import CALM
from tests.compliance.two_laws import EVENING, sign


@pytest.fixture
def windy(done, member):
    """A signed treatment with a reading of 9 mph."""
    reading = {"at": "2026-09-14T09:20:00-07:00", "wind_speed": {"value": "9", "unit": "mph"}}
    edit_draft(done, [Edit("w", f"weather.readings[{uuid4()}]", reading, done.revision)], member.user)
    with time_machine.travel(EVENING, tick=False):
        sign(done, member.user)
        yield done


def test_a_record_that_would_come_out_differently_is_named_with_the_difference(firm, colleague, windy):
    run = begin(save_rule(firm, CALM, colleague.user, ""))
    assert (run.total, run.done, run.finished_at is not None) == (1, 1, True)
    (found,) = run.found
    assert (found["uuid"], found["number"], found["day"]) == (str(windy.pk), windy.number, "2026-09-14")
    assert any("Calm only" in said and "9 mph" in said for said in found["en"])
    assert any("9 mi/h" in said for said in found["es"])


def test_rules_by_which_everything_stays_find_nothing(firm, colleague, windy):
    wide = replace(CALM, params={"quantity": "wind_speed", "max": "8 mph"}, examples=())
    take_into_use(save_rule(firm, wide, colleague.user, ""), colleague.user)
    assert begin(save_rule(firm, replace(wide, key="1", why="said better"), colleague.user, "")).found == []


def test_records_of_more_than_two_years_ago_are_not_asked(firm, colleague, windy):
    with time_machine.travel(EVENING + timedelta(days=733), tick=False):
        assert begin(save_rule(firm, CALM, colleague.user, "")).total == 0


def test_another_firms_records_are_not_asked(windy, stranger):
    assert begin(save_rule(stranger.firm, CALM, stranger.user, "")).total == 0


def test_a_long_run_is_the_workers(firm, colleague, windy, monkeypatch, django_capture_on_commit_callbacks):
    monkeypatch.setattr(what_if_runs, "AT_ONCE", 0)
    with django_capture_on_commit_callbacks(execute=True):
        run = begin(save_rule(firm, CALM, colleague.user, ""))
    run.refresh_from_db()
    assert run.finished_at and len(run.found) == 1
