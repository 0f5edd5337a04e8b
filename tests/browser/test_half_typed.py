"""A day that is half typed, which a browser sends as nothing, is not lost without a word."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from compliance.models import RecordsRequest
from tests.browser.conftest import DESK

pytestmark = pytest.mark.browser

HALF = "This is only half filled in and would be lost."


def test_a_search_waits_for_the_rest_of_its_day(open_page, colleague):
    page = open_page(colleague, width=DESK)
    page.goto(reverse("register"))
    page.get_by_text("Search by day, place").click()
    box = page.get_by_label("From day")
    box.focus()
    page.keyboard.type("0501")
    page.get_by_text("Search by day, place").click()
    page.get_by_role("button", name="Search", exact=True).click()
    expect(page.get_by_text(HALF)).to_be_visible()
    expect(box).to_be_focused()
    page.keyboard.press("Control+a")
    box.fill("2026-05-01")
    page.get_by_role("button", name="Search", exact=True).click()
    page.wait_for_url("**day_from=2026-05-01**")
    expect(page.get_by_text(HALF)).to_have_count(0)


def test_by_thursday_needs_no_hour_and_a_half_typed_day_stops_the_request(open_page, colleague):
    page = open_page(colleague, width=DESK)
    page.goto(reverse("new_request"))
    page.get_by_label("Name, and of which office or firm").fill("B. Ormond, Department of Samples")
    page.get_by_label("It came by").select_option("phone")
    page.get_by_label("What they ask for, in their words").fill("All of it, by Thursday")
    day = page.get_by_label("By when they want it, if they said so")
    day.focus()
    page.keyboard.type("1203")
    page.get_by_role("button", name="Keep this request").click()
    expect(page.get_by_text(HALF)).to_be_visible()
    assert not RecordsRequest.across_firms.exists()
    day.fill("2030-12-05")
    page.get_by_role("button", name="Keep this request").click()
    expect(page.get_by_role("heading", name="B. Ormond")).to_be_visible()
    expect(page.get_by_text("Due Dec. 5, 2030, 23:59")).to_be_visible()
