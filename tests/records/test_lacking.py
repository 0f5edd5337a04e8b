"""Papers that nobody can hand over with a record."""

import copy
import json
from datetime import date
from typing import Any

import pytest

from records.lacking import COPY, FIRM_LICENCE, LABEL, LICENCE, SIGN, lacking
from tests.compliance.papers.samples import ordinary

DAY = date(2026, 9, 14)
ALL_DONE = {"copy-given", "sign-removed"}


def document(**changes: Any) -> dict[str, Any]:
    return copy.deepcopy(ordinary()) | changes


def test_a_record_with_all_its_papers_lacks_none() -> None:
    assert lacking(document(), DAY, ALL_DONE) == set()


def test_a_copy_and_a_sign_are_lacking_until_a_follow_up_tells_of_them() -> None:
    posted = document(postings=[{"where": "front walk"}])
    assert lacking(posted, DAY, set()) == {COPY, SIGN}
    assert lacking(posted, DAY, {"sign-removed"}) == {COPY}
    assert lacking(document(postings=[]), DAY, {"copy-given"}) == set()


@pytest.mark.parametrize(
    ("valid_from", "valid_to", "lacks"),
    [
        ("2026-01-01", "2026-12-31", set()),
        ("2026-09-14", "2026-09-14", set()),
        ("2026-01-01", "2026-09-13", {LICENCE, FIRM_LICENCE}),
        ("2026-09-15", None, {LICENCE, FIRM_LICENCE}),
        (None, None, set()),
    ],
    ids=["year", "last-day-is-the-first", "ended", "begins-later", "no-days"],
)
def test_a_licence_is_there_on_its_days_which_both_count(
    valid_from: str | None, valid_to: str | None, lacks: set[str]
) -> None:
    changed = json.loads(json.dumps(document()))
    for one in (*changed["firm"]["licences"], *changed["people"][0]["licences"]):
        one |= {"valid_from": valid_from, "valid_to": valid_to}
    assert lacking(changed, DAY, ALL_DONE) == lacks


def test_who_works_under_supervision_needs_no_licence_and_somebody_has_to_have_one() -> None:
    helper = {"name": "T. Ibáñez", "tasks": ["sprayed"], "supervised_by": "R. Osei"}
    assert lacking(document(people=[*ordinary()["people"], helper]), DAY, ALL_DONE) == set()
    assert lacking(document(people=[helper]), DAY, ALL_DONE) == {LICENCE}
    assert lacking(document(people=None), DAY, ALL_DONE) == {LICENCE}


def test_a_product_without_the_facts_of_its_label_is_told() -> None:
    changed = document()
    changed["mixes"][0]["products"][0]["label"] = None
    assert lacking(changed, DAY, ALL_DONE) == {LABEL}


def test_of_a_day_without_work_only_the_sign_is_looked_for() -> None:
    stood_down = document(mixes=None, people=None, postings=[{"where": "front walk"}])
    stood_down["record"] |= {"result": "stood-down"}
    assert lacking(stood_down, DAY, set()) == {SIGN}
