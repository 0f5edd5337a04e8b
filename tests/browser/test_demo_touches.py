"""The demo firm's planned treatment of today becomes a signed record in a few touches, its steps all ticked."""

from datetime import datetime, timedelta

import pytest
import time_machine
from playwright.sync_api import Page, expect

from project.demo.day import Day
from project.demo.events import Events
from project.demo.load import Storyteller
from project.demo.rows import make_rows
from project.demo.sign_ins import new_pass_phrases
from project.demo.source import read_firm
from records.models import Membership, SignedRecord, Treatment, User
from shared import clock
from tests.browser.test_faster_than_paper import MOST_NUMBERS, MOST_TAPS, Thumb, sign
from tests.factories import PASSWORD

pytestmark = pytest.mark.browser

MORNING = datetime.fromisoformat("2026-11-25T07:30:00-08:00")
LAST_VISITS = 40
STEPS = ("people told on arrival", "storm drains covered", "plants wetted beforehand")
"""What the firm does at this place before it sprays a walk."""


class LastWeeks(Storyteller):
    """The demo firm, of whose two years the last weeks are enough for what a crew is offered."""

    def days(self, events: Events) -> list[Day]:
        return super().days(events)[-LAST_VISITS:]


@pytest.fixture
def hours(transactional_db):
    with time_machine.travel(MORNING, tick=True) as hours:
        yield hours


@pytest.fixture
def planned(hours, settings, tmp_path) -> Treatment:
    """The first job of the day that is not begun."""
    source = read_firm("quillfeather")
    rows = make_rows(source, dict.fromkeys(new_pass_phrases(source), PASSWORD))
    LastWeeks(source, rows).play(clock.now())
    planned = Treatment.objects.for_firm(rows.firm).filter(state=Treatment.State.DRAFT, revision=0)
    return planned.order_by("planned_at").first()


@pytest.mark.long
def test_it_takes_at_most_25_touches_and_2_numbers_beside_the_readings(open_page, planned, hours):
    arrival = planned.planned_at - timedelta(minutes=10)
    hours.move_to(arrival)
    user = User.objects.get(name=planned.applicators)
    page, thumb = open_page(Membership.objects.for_firm(planned.firm).get(user=user)), Thumb()
    page.goto(f"/treatments/{planned.pk}/")
    before_spraying(page, thumb)
    hours.move_to(arrival + timedelta(minutes=20))
    spray(page, thumb, hours)
    after(page, thumb)
    sign(page, thumb)
    record = SignedRecord.objects.for_firm(planned.firm).get(treatment=planned)
    assert len(record.sections["protection"]) == len(STEPS)
    assert thumb.taps <= MOST_TAPS
    assert thumb.numbers <= MOST_NUMBERS


def before_spraying(page: Page, thumb: Thumb) -> None:
    thumb.tap(page.get_by_role("link", name="Arrive"))
    thumb.tap(page.get_by_role("button", name="As on "))
    expect(page.get_by_label("sprayed")).to_be_checked()
    thumb.tap(page.get_by_role("button", name="Next: Protect"))
    for step in STEPS:
        thumb.tap(page.get_by_label(step, exact=True))
    thumb.tap(page.get_by_role("button", name="Next: Weather"))
    thumb.tap(page.get_by_role("button", name="Add a reading"))
    thumb.enter(page.get_by_label("Wind speed", exact=True), "4", is_reading=True)
    thumb.tap(page.get_by_role("radio", name="south-west", exact=True))
    thumb.enter(page.get_by_label("Air temperature", exact=True), "61", is_reading=True)
    thumb.tap(page.get_by_role("button", name="As on "))
    expect(page.get_by_role("button", name="As on ")).to_have_count(0)
    dry = page.get_by_role("group", name="Forecast: dry until")
    thumb.enter(dry.get_by_label("Time"), "18:00")
    thumb.tap(page.get_by_role("button", name="Next: Mix"))


def spray(page: Page, thumb: Thumb, hours) -> None:
    thumb.tap(page.get_by_role("button", name="Next: Spray"))
    thumb.tap(page.get_by_role("button", name="Now: Spraying started"))
    expect(page.get_by_role("group", name="Spraying started").get_by_label("Time")).not_to_have_value("")
    hours.shift(timedelta(minutes=40))
    thumb.tap(page.get_by_role("button", name="Now: Spraying finished"))
    expect(page.get_by_role("group", name="Spraying finished").get_by_label("Time")).not_to_have_value("")
    thumb.tap(page.get_by_role("button", name="all that was mixed"))
    expect(page.get_by_label("Finished mix applied", exact=True)).not_to_have_value("")
    thumb.tap(page.get_by_role("button", name="Next: After"))


def after(page: Page, thumb: Thumb) -> None:
    thumb.tap(page.get_by_label("treated", exact=True))
    expect(page.get_by_label("none left", exact=True)).to_be_checked()
    thumb.tap(page.get_by_role("button", name="by the label"))
    expect(page.get_by_role("button", name="by the label")).to_have_count(0)
    thumb.tap(page.get_by_label("Nothing went wrong"))
    thumb.tap(page.get_by_role("button", name="Next: Sign"))
