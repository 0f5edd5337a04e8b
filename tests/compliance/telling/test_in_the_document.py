"""What was sent stands in the document so that the rules are met by it, in each of its languages."""

from datetime import timedelta

import pytest

from compliance.services.check import check_treatment
from records.models import Attempt, Notice, Treatment
from records.outbox.in_document import write_into_document
from records.outbox.queueing import queue
from records.outbox.results import result
from tests.compliance.telling.conftest import NEIGHBOURS, PLANNED
from tests.compliance.telling.test_round import pieces

pytestmark = pytest.mark.django_db
IN_TIME = PLANNED - timedelta(hours=72)


def entries(lawn):
    return Treatment.objects.for_firm(lawn.firm).get(pk=lawn.pk).document["notices"]


def outcomes(lawn, rule):
    lawn.refresh_from_db()
    return {one.outcome.value for one in check_treatment(lawn).findings if one.basis.rule == rule}


@pytest.fixture
def told(lawn, neighbours, office, django_capture_on_commit_callbacks):
    """Letters to both neighbours in both languages, given to the post in time."""
    queue(lawn, pieces(lawn, "B. Lark", "C. Wren", means="letter"), office.user)
    with django_capture_on_commit_callbacks(execute=True):
        for one in Notice.objects.for_firm(lawn.firm):
            result(one, Attempt.Kind.POSTED, by=office.user, at=IN_TIME)
    return lawn


def test_a_notice_in_two_languages_stands_once_in_each(told):
    stated = entries(told)
    assert sorted(one["language"] for one in stated) == ["en", "en", "es", "es"]
    assert len({one["id"] for one in stated}) == 4
    assert len({one["notice"] for one in stated}) == 2


def test_what_becomes_of_it_later_is_written_into_the_same_entries(
    told, office, django_capture_on_commit_callbacks
):
    before = {one["id"] for one in entries(told)}
    with django_capture_on_commit_callbacks(execute=True):
        for one in Notice.objects.for_firm(told.firm):
            result(one, Attempt.Kind.HANDED_OVER, by=office.user, at=IN_TIME)
    assert {one["id"] for one in entries(told)} == before
    assert all(one["delivered_at"] for one in entries(told))


def test_writing_it_again_changes_nothing(told):
    told.refresh_from_db()
    revision = told.revision
    for one in Notice.objects.for_firm(told.firm):
        write_into_document(one)
    told.refresh_from_db()
    assert told.revision == revision


def test_the_rule_that_wants_the_neighbours_told_in_both_languages_is_met_by_the_record(told):
    """ECL 33-1004(1)(b)(i) as the pack reads it: 48 hours before, in English and Spanish."""
    assert outcomes(told, NEIGHBOURS) == {"met"}


def test_without_one_of_the_languages_it_is_still_to_do(told):
    told.refresh_from_db()
    told.document["notices"] = [one for one in told.document["notices"] if one["language"] == "en"]
    told.save()
    assert outcomes(told, NEIGHBOURS) == {"not_applicable"}
