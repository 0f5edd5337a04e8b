"""A filed report that is wrong by now is told of; one whose records changed and move no figure is not."""

from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from compliance.services.reports_differ import wrong_by_now
from records.document.edits import Edit
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from tests.compliance.services.test_reports import filed, in_california, monthly  # noqa: F401 - fixtures
from tests.records.logged import sign_now


@pytest.fixture
def sent(firm, in_california, done, member, colleague, monthly):  # noqa: F811
    with clock.at(datetime(2026, 10, 4, 17, 0, tzinfo=UTC)):
        sign_now(done, member)
        done.refresh_from_db()
    with clock.at(datetime(2026, 10, 5, 17, 0, tzinfo=UTC)):
        report = filed(firm, monthly, colleague)
    with clock.at(datetime(2026, 10, 6, 17, 0, tzinfo=UTC)):
        yield report


def correct(treatment, member, address: str, value: str) -> None:
    draft = start_correction(treatment, member.user, "it was misread")
    mix = draft.document["mixes"][0]["id"]
    edit_draft(draft, [Edit("a", address.format(mix=mix), value, draft.revision)], member.user)
    sign_now(draft, member)


def test_it_is_wrong_from_a_correction_of_a_figure_until_it_is_amended(
    firm, sent, done, member, colleague, monthly  # noqa: F811
):  # fmt: skip
    assert wrong_by_now(firm) == []
    correct(done, member, "mixes[{mix}].applied", "12 gal")
    assert wrong_by_now(firm) == [sent]
    with CaptureQueriesContext(connection) as asked:
        assert wrong_by_now(firm) == [sent]
    assert not [each for each in asked.captured_queries if "section_lines" in each["sql"]], "summed up once"
    with clock.at(datetime(2026, 10, 7, 17, 0, tzinfo=UTC)):
        filed(firm, monthly, colleague, reason="a gauge was misread")
        assert wrong_by_now(firm) == []


def test_a_correction_that_moves_no_figure_leaves_it_right(firm, sent, done, member):
    correct(done, member, "timing.finished_at", "2026-09-14T09:52:00-07:00")
    assert wrong_by_now(firm) == []


def test_a_record_that_is_void_makes_it_wrong(firm, sent, done, colleague):
    void(done, "it was the neighbour's roof", Signer(colleague.user))
    assert wrong_by_now(firm) == [sent]


def test_a_correction_that_moves_a_record_out_of_its_month_makes_it_wrong(firm, sent, done, member):
    correct(done, member, "timing.started_at", "2026-08-31T09:12:00-07:00")
    assert wrong_by_now(firm) == [sent]
