"""Two taps on a phone keep an incident; without a signal the phone still says what to do and whom to call."""

import pytest
from playwright.sync_api import expect

from records.models import Incident

pytestmark = [pytest.mark.browser, pytest.mark.long]


def test_two_taps_keep_it_and_show_what_to_do(open_page, member, draft):
    page = open_page(member)
    page.goto("/")
    page.get_by_role("link", name="Something went wrong?").click()
    page.get_by_role("button", name="Spill").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Spill")
    expect(page.get_by_text("Cover drains.")).to_be_visible()
    assert Incident.objects.for_firm(member.firm).get().kind == "spill"
    page.get_by_role("link", name="Write down what is known").click()
    page.get_by_label("What happened").fill("A hose burst.")
    page.get_by_label("a drain or sewer").check()
    page.get_by_role("button", name="Keep this").click()
    expect(page.get_by_text("A hose burst.")).to_be_visible()
    assert Incident.objects.for_firm(member.firm).get().reached == ["drain"]


def test_without_a_signal_it_says_what_to_do_and_whom_to_call(phone, today):
    phone.goto("/")
    phone.get_by_role("link", name="Something went wrong?").click()
    expect(phone.get_by_text("Stop the pump.")).to_be_visible()
    expect(phone.get_by_role("link", name="1-800-222-1222")).to_be_visible()
    expect(phone.locator("#kept-page")).to_be_visible()
    phone.locator("summary", has_text="Exposure").click()
    expect(phone.get_by_text("Make nobody vomit")).to_be_visible()
