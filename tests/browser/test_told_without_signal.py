"""Without a signal the phone says beside the fields what is missing and which limit is broken, by itself."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from compliance.pages.phone_sheet import TELLS_HERE
from records.models import Treatment
from records.pages.kept import SHELL
from records.services.planning import plan_treatment
from shared import clock
from shared.times import local_day
from tests.browser.phone import keep_all, wait_until_kept

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000


def section(page: Page, treatment, slug: str) -> None:
    page.goto(reverse("section", kwargs={"uuid": treatment.pk, "section": slug}))


def enter_wind(page: Page, speed: str) -> None:
    page.get_by_label("Wind speed", exact=True).fill(speed)
    page.get_by_label("Wind speed", exact=True).blur()


def test_every_script_that_tells_is_kept_on_the_phone():
    assert set(TELLS_HERE) <= set(SHELL)


def test_a_wind_above_the_labels_limit_is_told_beside_it(phone, today):
    section(phone, today, "weather")
    phone.get_by_role("button", name="Add a reading").click()
    enter_wind(phone, "12")
    told = phone.locator(".remark.told-here.not_met")
    expect(told).to_contain_text("Wind was 12 mph; the label of Sample Moss Wash allows 10 mph. Stop, wait")
    expect(told).to_contain_text("Told by this phone: label of Sample Moss Wash, 2025-03")
    expect(told.locator("xpath=ancestor::*[@data-field]")).to_have_count(1)


@pytest.mark.long
def test_what_was_told_goes_when_it_is_mended(phone, today):
    section(phone, today, "weather")
    phone.get_by_role("button", name="Add a reading").click()
    enter_wind(phone, "12")
    expect(phone.locator(".remark.told-here.not_met")).to_have_count(1)
    enter_wind(phone, "4")
    expect(phone.locator(".remark.told-here.not_met")).to_have_count(0)


@pytest.mark.long
def test_what_the_service_asked_for_before_is_hidden_once_it_is_entered(phone, today):
    section(phone, today, "spray")
    began = phone.locator(".remark", has_text="Enter when spraying began.")
    expect(began.first).to_be_visible()
    phone.get_by_role("button", name="Now").first.click()
    expect(began.locator("visible=true")).to_have_count(0)
    expect(phone.locator(".remark", has_text="Enter when spraying ended.").first).to_be_visible()


@pytest.mark.long
def test_what_was_ticked_is_no_longer_asked_for(phone, today):
    section(phone, today, "protect")
    asked = phone.locator(".remark", has_text="Not filled in: Protection steps").locator("visible=true")
    expect(asked).to_have_count(1)
    phone.get_by_role("checkbox", name="downspouts diverted").check()
    expect(asked).to_have_count(0)
    phone.get_by_role("checkbox", name="downspouts diverted").uncheck()
    expect(asked).to_have_count(1)


@pytest.mark.long
def test_the_treatments_page_counts_what_is_open(phone, today):
    phone.goto(reverse("treatment", kwargs={"uuid": today.pk}))
    told = phone.locator("#told-list")
    expect(told).to_contain_text("things open:")
    expect(told).to_contain_text("Enter when spraying began.")
    expect(told).to_contain_text("The rest is checked when there is a connection.")


@pytest.mark.long
def test_when_the_line_is_back_the_service_says_it_and_the_phone_is_silent(phone, today, line):
    section(phone, today, "weather")
    phone.get_by_role("button", name="Add a reading").click()
    enter_wind(phone, "12")
    expect(phone.locator(".remark.told-here.not_met")).to_have_count(1)
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    expect(phone.locator(".told-here")).to_have_count(0)
    expect(phone.locator(".remark.not_met", has_text="Wind was 12 mph")).to_have_count(1)


@pytest.mark.long
def test_a_page_that_was_opened_with_a_signal_tells_once_a_save_fails(with_signal, today, line):
    section(with_signal, today, "weather")
    wait_until_kept(with_signal)
    expect(with_signal.locator(".told-here")).to_have_count(0)
    line.cut()
    with_signal.get_by_role("button", name="Add a reading").click()
    enter_wind(with_signal, "12")
    expect(with_signal.locator(".remark.told-here.not_met")).to_have_count(1, timeout=PATIENCE_MS)


@pytest.fixture
def of_yesterday(firm, member, plan) -> Treatment:
    return plan_treatment(firm, member.user, replace(plan, planned_at=clock.now() - timedelta(days=1)))


@pytest.mark.long
def test_on_another_day_than_planned_limits_are_told_and_whose_day_they_are_of(
    of_yesterday, open_page, member, line
):
    page = open_page(member, keeps=True, address=line.address)
    keep_all(page)
    line.cut()
    section(page, of_yesterday, "spray")
    expect(page.locator(".limits-known")).to_be_hidden()
    page.get_by_role("button", name="Now").first.click()
    section(page, of_yesterday, "weather")
    page.get_by_role("button", name="Add a reading").click()
    enter_wind(page, "25")
    expect(page.locator(".remark.told-here.not_met")).to_contain_text("Wind was 25 mph")
    said = f"are those of {in_english(local_day(of_yesterday.planned_at, of_yesterday.site.time_zone))}"
    expect(page.locator(".limits-known")).to_contain_text(said)
    page.goto(reverse("treatment", kwargs={"uuid": of_yesterday.pk}))
    expect(page.locator(".limits-known")).to_contain_text(said)


def in_english(day: date) -> str:
    return f"{day:%B} {day.day}, {day.year}"


@pytest.mark.long
def test_the_cards_open_without_a_signal(phone, today):
    phone.goto("/")
    phone.get_by_role("link", name="Stopped on the road?").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Stopped on the road")
    phone.get_by_role("link", name="Medical card").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Medical card")
    expect(phone.locator("#kept-page")).to_be_visible()
    expect(phone.get_by_role("link", name="1-800-222-1222")).to_be_visible()
