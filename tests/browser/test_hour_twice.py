"""Now in the hour that comes twice is the moment that it is, also without a signal; by hand one says which."""

from datetime import datetime

import pytest
from playwright.sync_api import expect

from tests.browser.test_no_signal import PATIENCE_MS, section, sent

pytestmark = pytest.mark.browser

SECOND = datetime.fromisoformat("2026-11-01T01:30:07-08:00")


@pytest.mark.long
def test_now_in_the_second_of_the_two_hours_is_not_read_as_the_first(phone, today, line):
    phone.clock.install(time=SECOND)
    phone.goto(section(today, "spray"))
    phone.get_by_role("button", name="Now: Spraying started").click()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    known = phone.evaluate(
        "(id) => phoneDocument.of(id).then(({ document }) => document.timing)", str(today.pk)
    )
    phone.goto(section(today, "weather"))
    phone.goto(section(today, "spray"))
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    assert datetime.fromisoformat(sent(today)["timing"]["started_at"]) - SECOND < datetime.resolution * 3e6
    assert known["started_at"] == sent(today)["timing"]["started_at"]


@pytest.mark.long
def test_a_time_typed_by_hand_in_that_hour_is_asked_about_beside_it(open_page, member, draft):
    page = open_page(member)
    page.goto(section(draft, "spray"))
    start = page.get_by_role("group", name="Spraying started")
    start.get_by_label("Day").fill("2026-11-01")
    start.get_by_label("Time").fill("01:30")
    start.get_by_label("Time").blur()
    expect(start.locator(".sentence")).to_contain_text("Say which is meant.")
    start.get_by_label("The second").check()
    expect(start.locator(".sentence")).to_have_count(0)
    expect(start.get_by_label("The second")).to_be_checked()
    page.wait_for_load_state("networkidle")
    assert sent(draft)["timing"]["started_at"] == "2026-11-01T01:30:00-08:00"
