"""The register: search, order, pages by key, and what a page costs."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse

from records.document.edits import Edit
from records.pages.register import PAGE
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from tests.factories import SiteFactory, SurfaceFactory

MOST_QUERIES = 9
"""One of them notes who saw the register."""


@pytest.fixture
def many(firm, member, plan) -> list[str]:
    """More than a page of treatments on days one after another, newest last."""
    plans = [replace(plan, planned_at=plan.planned_at + timedelta(days=day)) for day in range(PAGE + 3)]
    return [plan_treatment(firm, member.user, each).number for each in plans]


@pytest.fixture
def elsewhere(firm, member, plan) -> str:
    site = SiteFactory(firm=firm, name="Shop, 9 Lark Street", customer__name="B. Lark")
    surface = SurfaceFactory(site=site, firm=firm, name="Front walk", kind="walk")
    treatment = plan_treatment(firm, member.user, replace(plan, site=site, surfaces=[surface]))
    edit_draft(treatment, [Edit("1", "record.result", "treated", treatment.revision)], member.user)
    return treatment.number


def numbers(client, **query) -> list[str]:
    page = client.get(reverse("register"), query)
    assert page.status_code == 200
    return [treatment.number for treatment in page.context["treatments"]]


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def test_the_newest_day_stands_first(client, many):
    assert numbers(client) == many[: -PAGE - 1 : -1]


def test_the_next_page_begins_where_the_last_ended(client, many):
    first = client.get(reverse("register"))
    assert numbers(client, after=str(first.context["after"])) == many[2::-1]


@pytest.mark.parametrize(
    "query",
    [
        {"site": "lark street"},
        {"customer": "b. lark"},
        {"site": "Lark", "product": "moss wash", "applicator": "osei"},
        {"site": "Lark", "product": "99999"},
        {"site": "Lark", "state": "draft"},
        {"site": "Lark", "day_from": "2026-09-14", "day_to": "2026-09-14"},
    ],
)
def test_a_search_finds_what_fits(client, draft, elsewhere, query):
    assert numbers(client, **query) == [elsewhere]


@pytest.mark.parametrize(
    "query",
    [{"day_from": "2026-09-15"}, {"day_to": "2026-09-13"}, {"outcome": "met"}, {"product": "no such wash"}],
)
def test_a_search_leaves_out_what_does_not_fit(client, draft, elsewhere, query):
    assert numbers(client, **query) == []


def test_a_day_that_is_none_is_said_and_kept(client, draft):
    page = client.get(reverse("register"), {"day_from": "yesterday"}).content.decode()
    assert "There is a problem" in page
    assert 'value="yesterday"' in page


def test_a_long_register_costs_no_more_queries_than_a_short_one(client, many, django_assert_max_num_queries):
    with django_assert_max_num_queries(MOST_QUERIES):
        numbers(client)
