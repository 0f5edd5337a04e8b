"""From the planned treatment to the signed record: how often the crew touches the screen, and what it types;
and how a day that does not happen becomes a record in two touches and its wind."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
import time_machine
from playwright.sync_api import Locator, Page, expect

from records.document.edits import Edit
from records.models import SignedRecord, Treatment
from records.selectors import document_of
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from tests.factories import PASSWORD, FeatureFactory, LicenceFactory

pytestmark = pytest.mark.browser

MOST_TAPS, MOST_NUMBERS = 25, 2
ARRIVAL = datetime.fromisoformat("2026-09-14T08:50:00-07:00")


class Thumb:
    """Does what a thumb does, and counts it."""

    def __init__(self) -> None:
        self.taps, self.numbers, self.read = 0, 0, 0

    def tap(self, what: Locator) -> None:
        self.taps += 1
        what.wait_for()
        what.page.wait_for_load_state()
        what.click()

    def enter(self, what: Locator, text: str, is_reading: bool = False) -> None:
        """A touch of the field, and a number typed into it."""
        self.taps += 1
        self.read += is_reading
        self.numbers += not is_reading
        what.fill(text)
        what.blur()


@pytest.fixture
def clock():
    with time_machine.travel(ARRIVAL, tick=True) as clock:
        yield clock


@pytest.fixture
def planned(clock, firm, member, plan) -> Treatment:
    """The plan of today; the same person did the like the day before."""
    FeatureFactory(site=plan.site, firm=firm, name="street drain", kind="storm-drain")
    LicenceFactory(firm=firm, person=None, kind="commercial applicator", number="F-1", holder="J. Quill")
    before = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at - timedelta(days=1)))
    person, mix = before.document["people"][0]["id"], before.document["mixes"][0]["id"]
    values = {
        f"people[{person}].tasks": ["mixed", "sprayed"],
        f"people[{person}].ppe": ["gloves", "goggles", "boots"],
        f"mixes[{mix}].measured_by": "tank-gauge",
        "weather.readings[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11]": {"source": "anemometer"},
    }
    edits = [Edit(path, path, value, before.revision) for path, value in values.items()]
    assert not edit_draft(before, edits, member.user).unread
    return plan_treatment(firm, member.user, plan)


def test_a_record_takes_at_most_25_touches_and_2_numbers_beside_the_readings(open_page, member, planned, clock):
    page, thumb = open_page(member), Thumb()
    page.goto(f"/treatments/{planned.pk}/")
    before_spraying(page, thumb)
    clock.move_to(ARRIVAL + timedelta(minutes=20))
    spray(page, thumb, clock)
    sign(page, thumb)
    assert SignedRecord.objects.for_firm(planned.firm).filter(treatment=planned).exists()
    assert thumb.taps <= MOST_TAPS
    assert thumb.numbers <= MOST_NUMBERS


def test_a_day_that_does_not_happen_is_two_touches_and_the_wind_before_the_signature(
    open_page, member, planned, clock
):
    page, thumb = open_page(member), Thumb()
    page.goto(f"/treatments/{planned.pk}/")
    thumb.tap(page.get_by_role("link", name="Stand this treatment down"))
    page.get_by_text("No instrument?").click()
    page.get_by_role("button", name="Small trees in leaf sway").click()
    expect(page.get_by_text("The upper end stands here")).to_be_visible()
    thumb.tap(page.get_by_role("button", name="wind", exact=True))
    expect(page.get_by_role("heading", level=1)).to_have_text("Check your answers, then sign")
    assert thumb.taps == 2
    expect(page.get_by_label("Your reason")).to_have_count(0)
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()
    signed = document_of(SignedRecord.objects.for_firm(planned.firm).get(treatment=planned))
    (reading,) = signed["weather"]["readings"]
    assert (signed["record"]["result"], signed["record"]["why"]) == ("stood-down", "wind")
    assert (reading["source"], reading["at"][:16]) == ("estimate", "2026-09-14T08:50")


def test_without_any_wind_it_is_two_touches_as_well(open_page, member, planned):
    page, thumb = open_page(member), Thumb()
    page.goto(f"/treatments/{planned.pk}/")
    thumb.tap(page.get_by_role("link", name="Stand this treatment down"))
    thumb.tap(page.get_by_role("button", name="customer", exact=True))
    expect(page.get_by_role("heading", level=1)).to_have_text("Check your answers, then sign")
    expect(page.get_by_label("Your reason")).to_have_count(0)
    planned.refresh_from_db()
    assert "weather" not in planned.document


def before_spraying(page: Page, thumb: Thumb) -> None:
    thumb.tap(page.get_by_role("link", name="Arrive"))
    thumb.tap(page.get_by_role("button", name="As on Sept. 13, 2026"))
    expect(page.get_by_label("sprayed")).to_be_checked()
    thumb.tap(page.get_by_role("button", name="Next: Protect"))
    for step in ("downspouts diverted", "storm drains covered", "people told on arrival"):
        thumb.tap(page.get_by_label(step, exact=True))
    thumb.tap(page.get_by_role("button", name="Next: Weather"))
    thumb.tap(page.get_by_role("button", name="Add a reading"))
    thumb.enter(page.get_by_label("Wind speed", exact=True), "4", is_reading=True)
    thumb.tap(page.get_by_role("radio", name="south-west", exact=True))
    thumb.enter(page.get_by_label("Air temperature", exact=True), "61", is_reading=True)
    thumb.tap(page.get_by_role("button", name="As on Sept. 13, 2026"))
    expect(page.get_by_label("anemometer")).to_be_checked()
    dry = page.get_by_role("group", name="Forecast: dry until")
    thumb.enter(dry.get_by_label("Time"), "18:00")
    thumb.tap(page.get_by_role("button", name="Next: Mix"))


def spray(page: Page, thumb: Thumb, clock) -> None:
    thumb.tap(page.get_by_role("button", name="Next: Spray"))
    thumb.tap(page.get_by_role("button", name="Now: Spraying started"))
    expect(page.get_by_role("group", name="Spraying started").get_by_label("Time")).not_to_have_value("")
    clock.move_to(ARRIVAL + timedelta(minutes=60))
    thumb.tap(page.get_by_role("button", name="Now: Spraying finished"))
    expect(page.get_by_role("group", name="Spraying finished").get_by_label("Time")).not_to_have_value("")
    thumb.tap(page.get_by_role("button", name="Take 15 gal: all that was mixed, none left"))
    expect(page.get_by_label("Finished mix applied", exact=True)).to_have_value("15")
    thumb.tap(page.get_by_role("button", name="Next: After"))
    thumb.tap(page.get_by_label("treated", exact=True))
    expect(page.get_by_label("none left", exact=True)).to_be_checked()
    thumb.tap(page.get_by_label("Nothing went wrong"))
    thumb.tap(page.get_by_role("button", name="Next: Sign"))


def sign(page: Page, thumb: Thumb) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text("Check your answers, then sign")
    expect(page.get_by_label("Your reason")).to_have_count(0)
    thumb.taps += 1
    page.locator("#password").fill(PASSWORD)
    thumb.tap(page.get_by_role("button", name="Sign and lock this record"))
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()
