"""What fitted when a request came in is its answer, whatever was corrected or found later."""

from datetime import timedelta

import pytest

from compliance.models import StoredCheck
from compliance.stored_form import compressed
from compliance.stored_register import open_rules
from records.models import Treatment
from records.services.projection import set_found, set_outcome
from shared import clock
from tests.compliance.pages.test_requests import NOW, manager, page_of, taken  # noqa: F401 - a fixture
from tests.faults.recheck_at_scale import another
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

CAME = "2026-09-16T10:00"
"""NOW, in Port Quill."""


@pytest.fixture
def found_open(signed) -> StoredCheck:  # noqa: F811
    """The check at signing: some rules are open."""
    return StoredCheck.across_firms.get()


@pytest.fixture
def checked_again(found_open):
    """Later nothing is open any more."""

    def again() -> None:
        later = {"outcome": "met", "body": compressed({"findings": []}), "digest": "later"}
        another(found_open, at=NOW + timedelta(hours=1), **later).save(force_insert=True)
        treatment = Treatment.across_firms.get(pk=found_open.treatment_id)
        set_outcome(treatment, "met")
        set_found(treatment, set(), set(), None)

    return again


def searches(check: StoredCheck) -> list[str]:
    not_met, cant_tell = open_rules(check.stored)
    return [f"?outcome={check.outcome}", f"?finding={min(not_met | cant_tell)}"]


def test_a_check_made_later_takes_nothing_out_of_the_answer(manager, signed, found_open, checked_again):  # noqa: F811
    asked = [taken(manager, search=each, received_at=CAME) for each in searches(found_open)]
    for each in asked:
        assert page_of(manager, each).context["met"]["rows"] == [signed]
    checked_again()
    for each in asked:
        page = page_of(manager, each)
        assert page.context["met"]["rows"] == [signed]
        assert page.context["no_more"] == {signed.pk}


def test_a_request_that_came_after_the_check_goes_by_it(manager, signed, found_open, checked_again):  # noqa: F811
    checked_again()
    with clock.at(NOW + timedelta(hours=2)):
        for each in searches(found_open):
            later = taken(manager, search=each, received_at="2026-09-16T12:00")
            assert page_of(manager, later).context["met"]["rows"] == []
