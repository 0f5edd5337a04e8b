"""The register finds treatments by what they are asked for, page by page."""

from dataclasses import replace
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.http import Http404

from records.models import Treatment
from records.register.wanted import RegisterFilter
from records.register_search import page_after, treatments_of
from records.selectors import treatment_of
from records.services.planning import plan_treatment
from records.services.projection import set_outcome


@pytest.fixture
def ten(firm, member, plan) -> list[Treatment]:
    days = [plan.planned_at + timedelta(days=number // 2) for number in range(10)]
    return [plan_treatment(firm, member.user, replace(plan, planned_at=day)) for day in days]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ({}, 10),
        ({"day_from": date(2026, 9, 15)}, 8),
        ({"day_to": date(2026, 9, 15)}, 4),
        ({"day_from": date(2026, 9, 15), "day_to": date(2026, 9, 15)}, 2),
        ({"site": "heron"}, 10),
        ({"site": "elsewhere"}, 0),
        ({"customer": "marlowe"}, 10),
        ({"product": "moss wash"}, 10),
        ({"product": "99999-"}, 10),
        ({"product": "other"}, 0),
        ({"applicator": "osei"}, 10),
        ({"outcome": "met"}, 1),
        ({"state": "signed"}, 0),
    ],
)
def test_each_filter_finds_what_it_names(firm, ten, wanted, found):
    set_outcome(ten[0], "met")
    assert treatments_of(firm, RegisterFilter(**wanted)).count() == found


def test_pages_follow_each_other_without_gap_or_repeat(firm, ten):
    seen, last = [], None
    while page := list(page_after(treatments_of(firm), last)[:3]):
        seen += page
        last = page[-1]
    assert seen == list(treatments_of(firm))
    assert [row.day for row in seen] == sorted((row.day for row in seen), reverse=True)


def test_a_stranger_finds_none_and_gets_404_for_the_id(firm, ten, stranger):
    assert treatments_of(stranger.firm).count() == 0
    for uuid in (ten[0].pk, uuid4()):
        with pytest.raises(Http404):
            treatment_of(stranger.firm, uuid)
    assert treatment_of(firm, ten[0].pk) == ten[0]
