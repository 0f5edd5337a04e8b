"""The register: search, order, pages by key, and what a page costs."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils.html import escape

from compliance.pack_reader import registered_packs
from compliance.selectors import labels_of, today_of
from records.document.edits import Edit
from records.pages.register import PAGE
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.projection import set_found
from shared.quantities import Quantity
from tests.factories import SiteFactory, SurfaceFactory

MOST_QUERIES = 13
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


@pytest.mark.parametrize(
    "query", [{"wind_least": "much"}, {"day_from": "2026-09-15", "day_to": "2026-09-14"}, {"day_to": "soon"}]
)
def test_where_a_part_of_the_search_makes_no_sense_nothing_is_shown_nor_handed_over(client, many, query):
    answer = client.get(reverse("register"), {"product": "no such product"} | query)
    page = answer.content.decode()
    assert list(answer.context["treatments"]) == []
    assert "Nothing was searched for" in page
    for name in ("hand_over", "new_request", "register_csv", "register_xlsx", "register_pictures"):
        assert f'href="{reverse(name)}' not in page


def test_where_nothing_fits_a_demand_for_it_can_be_taken_in_all_the_same(client, many, member, colleague):
    search, asks = {"product": "no such product"}, f'href="{reverse("new_request")}?product=no+such+product"'
    assert asks not in client.get(reverse("register"), search).content.decode()
    client.force_login(colleague.user)
    page = client.get(reverse("register"), search).content.decode()
    assert asks in page
    assert "No treatment fits this search." in page
    assert f'href="{reverse("hand_over")}' not in page


def test_a_wind_without_a_unit_is_in_the_one_that_the_box_shows(client, many):
    box = client.get(reverse("register"), {"wind_least": "5"}).context["search"].form
    assert "mph" in str(box["wind_least"])
    assert box.cleaned_data["wind_least"] == Quantity("5", "mph")


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


def test_a_page_after_what_has_no_place_in_the_order_is_the_first(client, draft):
    assert numbers(client, order="wind", after=str(draft.pk)) == []


@pytest.mark.parametrize("box", ["words", "customer", "licence"])
def test_more_words_than_anybody_looks_for_are_looked_for_by_nobody(client, draft, box):
    page = client.get(reverse("register"), {box: "a " * 21})
    assert "At most 20 words." in page.content.decode()
    assert list(page.context["treatments"]) == []
    assert client.get(reverse("register"), {box: "a" * 301}).context["search"].form.errors[box]
    assert client.get(reverse("register"), {box: "a " * 20}).context["search"].form.errors == {}


def test_a_day_that_is_none_is_said_and_kept(client, draft):
    page = client.get(reverse("register"), {"day_from": "yesterday"}).content.decode()
    assert "There is a problem" in page
    assert 'value="yesterday"' in page


def test_a_long_register_costs_no_more_queries_than_a_short_one(client, many, django_assert_max_num_queries):
    with django_assert_max_num_queries(MOST_QUERIES):
        numbers(client)


def test_how_many_were_found_is_said_and_beyond_the_bound_counted_on_request(client, many, monkeypatch):
    assert f"{len(many)} treatments." in client.get(reverse("register")).content.decode()
    monkeypatch.setattr("records.register_search.FEW", 0)
    monkeypatch.setattr("records.register_search.counted", lambda found: None)
    page = client.get(reverse("register"), {"applicator": "osei"}).content.decode()
    assert "More than 10,000 treatments." in page
    assert "?applicator=osei&amp;count=exact" in page
    exact = client.get(reverse("register"), {"applicator": "osei", "count": "exact"}).content.decode()
    assert f"{len(many)} treatments." in exact
    assert "Count them all" not in exact


def test_a_count_that_takes_longer_than_the_lines_comes_after_them(client, many, monkeypatch):
    monkeypatch.setattr("records.register_search.FEW", 0)
    asked = {"applicator": "osei", "product": "moss wash"}
    page = client.get(reverse("register"), asked)
    assert "Counting …" in page.content.decode()
    assert "vendor/htmx" in page.content.decode()
    assert len(page.context["treatments"]) == PAGE
    assert f"{reverse('register_count')}?applicator=osei&amp;product=moss+wash" in page.content.decode()
    said = client.get(reverse("register_count"), asked).content.decode()
    assert f"{len(many)} treatments." in said
    exact = client.get(reverse("register"), {**asked, "count": "exact"}).content.decode()
    assert f"{len(many)} treatments." in exact


def test_the_order_is_kept_from_page_to_page(client, many):
    first = client.get(reverse("register"), {"order": "oldest"})
    assert [treatment.number for treatment in first.context["treatments"]] == many[:PAGE]
    assert numbers(client, order="oldest", after=str(first.context["after"])) == many[PAGE:]


def test_places_are_offered_by_their_names(client, draft, elsewhere):
    page = client.get(reverse("register"), {"place": "us-wa"}).content.decode()
    assert '<option value="us-wa" selected>Washington</option>' in page
    assert sorted(numbers(client, place="us-wa")) == sorted([elsewhere, draft.number])


def test_rules_are_offered_by_their_titles_once_a_check_left_them_open(client, draft, elsewhere):
    known = {each.id: each.title.say("en") for pack in registered_packs() for each in pack.rules}
    rule = next(each for each in known if each.startswith("us-wa/"))
    set_found(draft, {rule}, {"gone/rule"}, None)
    page = client.get(reverse("register"), {"finding": rule}).content.decode()
    assert f'<option value="{rule}" selected>{escape(known[rule])}</option>' in page
    assert '<option value="gone/rule">gone/rule</option>' in page
    assert numbers(client, finding=rule) == [draft.number]
    assert numbers(client, finding="gone/rule") == [draft.number]


def test_a_rule_of_a_label_is_called_by_its_product(client, firm, draft):
    label = next(pack for pack in labels_of(firm, today_of(firm)) if pack.rules)
    set_found(draft, {label.rules[0].id}, (), None)
    page = client.get(reverse("register")).content.decode()
    assert escape(f"{label.title.say('en')}: {label.rules[0].title.say('en')}") in page


def test_an_inspector_is_asked_nothing_about_findings_and_finds_nothing_by_them(client, draft, member):
    set_found(draft, {"us-wa/x"}, set(), None)
    member.role = "inspector"
    member.save()
    page = client.get(reverse("register"), {"finding": "us-wa/x"})
    assert 'name="finding"' not in page.content.decode()
    assert 'name="outcome"' not in page.content.decode()
    assert numbers(client, finding="us-wa/x") == []
    assert numbers(client) == []


def test_a_wind_that_can_t_be_read_is_said_beside_its_box_and_kept(client, draft):
    page = client.get(reverse("register"), {"wind_least": "7 gal"}).content.decode()
    assert "There is a problem" in page
    assert 'value="7 gal"' in page
    assert '<details class="finer" open>' in page
