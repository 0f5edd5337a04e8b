"""The main job, walked by a crew member in a real browser: plan, fill in, findings, sign, PDF, register."""

from datetime import datetime
from io import BytesIO

import pytest
import time_machine
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from records.models import SignedRecord, Treatment
from tests.browser.conftest import WIDTHS
from tests.factories import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.both]

MORNING = datetime.fromisoformat("2026-09-14T16:05:00+00:00")
WHEN_DONE = datetime.fromisoformat("2026-09-14T17:00:00+00:00")


@pytest.fixture(autouse=True)
def morning_of_the_day():
    with time_machine.travel(MORNING, tick=True) as clock:
        yield clock


@pytest.mark.parametrize("width", [WIDTHS[0], pytest.param(WIDTHS[1], marks=pytest.mark.long)])
def test_a_treatment_is_planned_filled_in_signed_printed_and_found(
    open_page, plan, member, width, morning_of_the_day
):
    page = open_page(member, width=width)
    plan_it(page, plan)
    take_the_wind(page)
    do_the_work(page)
    morning_of_the_day.move_to(WHEN_DONE)
    sign_it(page)
    record = SignedRecord.objects.for_firm(plan.site.firm).get()
    expect(page.get_by_text(record.digest)).to_be_visible()
    print_it(page, record)
    find_it(page, record.treatment)


def plan_it(page: Page, plan) -> None:
    page.goto("/")
    page.get_by_role("link", name="Plan a treatment").click()
    page.get_by_role("searchbox").fill("Heron")
    page.get_by_role("button", name="Search").click()
    page.get_by_role("link", name="House, 4 Heron Row").click()
    page.get_by_label("Main roof, north slope").check()
    page.get_by_label("Day").fill("2026-09-14")
    page.get_by_label("Time").fill("09:00")
    page.get_by_label("Product", exact=True).select_option(label="Sample Moss Wash")
    page.get_by_label("Lot on the container").select_option(label="Sample Moss Wash: L-0457")
    page.get_by_label("Planned amount of product").fill("1.5")
    page.get_by_label("Planned amount of water").fill("13.5")
    page.get_by_label("Rig", exact=True).select_option(label="Rig 2")
    page.get_by_label("R. Osei").check()
    page.get_by_role("button", name="Plan this treatment").click()
    expect(page.get_by_role("heading", name="House, 4 Heron Row")).to_be_visible()
    expect(page.get_by_role("region", name="Limits in force")).to_contain_text("at most 10 mph")


def take_the_wind(page: Page) -> None:
    page.get_by_role("link", name="Arrive").click()
    page.get_by_label("sprayed").check()
    saved(page)
    page.get_by_role("button", name="Next: Protect").click()
    page.get_by_label("downspouts diverted").check()
    saved(page)
    page.get_by_role("button", name="Save and go on: Weather").click()
    pressed(page, page.get_by_role("button", name="Add a reading"))
    pressed(page, page.get_by_role("group", name="Reading").get_by_role("button", name="Now: When"))
    wind = page.get_by_label("Wind speed", exact=True)
    wind.fill("14")
    wind.blur()
    expect(page.locator(".remark.not_met").filter(has_text="10 mph")).to_contain_text("Not met")
    wind.fill("4")
    wind.blur()
    expect(page.locator(".remark.not_met").filter(has_text="10 mph")).to_have_count(0)
    page.get_by_role("radio", name="south-west", exact=True).check()
    page.get_by_label("Air temperature", exact=True).fill("61")
    page.get_by_label("Air temperature", exact=True).blur()
    saved(page)


def do_the_work(page: Page) -> None:
    go_to(page, "Spray")
    page.get_by_role("button", name="Now: Spraying started").click()
    expect(page.get_by_role("group", name="Spraying started").get_by_label("Time")).not_to_have_value("")
    finished = page.get_by_role("group", name="Spraying finished")
    finished.get_by_label("Day").fill("2026-09-14")
    finished.get_by_label("Time").fill("09:47")
    page.get_by_label("Finished mix applied", exact=True).fill("14")
    page.get_by_label("Finished mix applied", exact=True).blur()
    saved(page)
    page.get_by_role("button", name="Next: After").click()
    page.get_by_label("treated", exact=True).check()
    saved(page)
    page.get_by_role("button", name="Save and go on: Sign").click()


def sign_it(page: Page) -> None:
    expect(page.get_by_text("14 gal").first).to_be_hidden()
    page.locator("summary").filter(has_text="Spray").click()
    expect(page.get_by_text("14 gal").first).to_be_visible()
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("alert")).to_contain_text("Enter your password.")
    expect(page.locator("#password")).to_be_focused()
    for box in page.get_by_label("Your reason").all():
        box.fill("The licence is on its way by post.")
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()


def print_it(page: Page, record: SignedRecord) -> None:
    address = page.get_by_role("link", name="English").first.get_attribute("href")
    answer = page.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    text = PdfReader(BytesIO(answer.body())).pages[0].extract_text()
    assert record.treatment.number in text


def find_it(page: Page, treatment: Treatment) -> None:
    page.get_by_role("link", name="Register").click()
    page.get_by_text("Search").first.click()
    page.get_by_label("Customer").fill("Marlowe")
    page.get_by_role("button", name="Search").click()
    page.get_by_role("link", name=treatment.number).click()
    expect(page.get_by_role("heading", name="What the rules said")).to_be_visible()


def go_to(page: Page, section: str) -> None:
    page.get_by_role("link", name="Treatment 2026-").click()
    page.get_by_role("link", name=section, exact=True).click()


def pressed(page: Page, button: Locator) -> None:
    """A button that the service answers with the page drawn anew."""
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        button.click()
    page.wait_for_timeout(300)


def saved(page: Page) -> None:
    """All that was typed, not only what was typed before the word stood there."""
    expect(page.locator("#save-state")).to_have_text("Saved.")
    for _ in range(100):
        if not page.evaluate("shelf.entries().length"):
            return
        page.wait_for_timeout(100)
    raise AssertionError("something is not saved")
