"""On each screen the phone goes off in mid-entry, without a signal: when it is on again, all is there."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Locator, Page, Playwright, expect

from records.models import Treatment
from tests.browser.mortal import MortalPhone
from tests.browser.phone import keep_all, set_up_for_signing
from tests.browser.test_signing_without_signal import PATIENCE_MS, address, sign_here, the_record

pytestmark = [pytest.mark.browser, pytest.mark.long]


@dataclass(frozen=True)
class Screen:
    """`half` types into one field and leaves the focus in it; `typed` is the field with `value`."""

    slug: str
    half: Callable[[Page], None]
    typed: Callable[[Page], Locator]
    value: str | bool


def add_reading(page: Page) -> None:
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).press_sequentially("4")


def field(name: str) -> Callable[[Page], Locator]:
    return lambda page: page.get_by_label(name, exact=True)


SCREENS = (
    Screen("arrive", lambda page: page.get_by_label("sprayed").check(), field("sprayed"), True),
    Screen(
        "protect",
        lambda page: page.get_by_label("downspouts diverted").check(),
        field("downspouts diverted"),
        True,
    ),
    Screen("weather", add_reading, field("Wind speed"), "4"),
    Screen(
        "mix",
        lambda page: page.get_by_label("Amount of diluent", exact=True).fill("12"),
        field("Amount of diluent"),
        "12",
    ),
    Screen(
        "spray",
        lambda page: page.get_by_label("Finished mix applied", exact=True).fill("11"),
        field("Finished mix applied"),
        "11",
    ),
    Screen("after", lambda page: page.get_by_label("Notes").fill("Dog kep"), field("Notes"), "Dog kep"),
)


@pytest.fixture
def phone(playwright: Playwright, member, today, line, tmp_path: Path) -> Iterator[MortalPhone]:
    client = Client()
    client.force_login(member.user)
    session = {"name": settings.SESSION_COOKIE_NAME, "value": client.cookies["sessionid"].value}
    phone = MortalPhone(playwright, tmp_path / "phone", line.address, {**session, "url": line.address})
    page = phone.start()
    set_up_for_signing(page)
    keep_all(page)
    line.cut()
    yield phone
    phone.kill()


def goes_off_and_on(phone: MortalPhone, page: Page) -> Page:
    """Once what was typed is on the phone's disk."""
    page.evaluate("onDisk.written()")
    phone.kill()
    return phone.start()


def is_there(screen: Screen, page: Page) -> None:
    typed = screen.typed(page)
    if screen.value is True:
        expect(typed).to_be_checked()
    else:
        expect(typed).to_have_value(str(screen.value))


def opened(page: Page, treatment: Treatment, screen: Screen) -> None:
    page.goto(address("section", treatment, section=screen.slug))


def test_killed_after_a_value_was_typed_over_another_the_later_one_is_there_and_sent(phone, today, line):
    page = phone.context.pages[0]
    for value in ("8", "7"):
        opened(page, today, SCREENS[3])
        field("Amount of diluent")(page).fill(value)
        page = goes_off_and_on(phone, page)
    for _ in range(2):  # and is not undone by having looked
        opened(page, today, SCREENS[3])
        expect(field("Amount of diluent")(page)).to_have_value("7")
        page = goes_off_and_on(phone, page)
    line.mend()
    with page.expect_response("**/form/mix/"):
        opened(page, today, SCREENS[3])
    expect(page.locator("#save-state")).to_have_text("Saved.")
    today.refresh_from_db()
    assert today.document["mixes"][0]["diluent"]["amount"]["value"] == "7"


def test_killed_on_each_screen_it_still_has_every_entry_and_sends_it_once(phone, today, line):
    page = phone.context.pages[0]
    for screen in SCREENS:
        opened(page, today, screen)
        screen.half(page)
        page = goes_off_and_on(phone, page)
        opened(page, today, screen)
        is_there(screen, page)
    page.goto(address("sign", today))
    page.locator("#seal textarea").first.fill("The licence is being ren")
    page = goes_off_and_on(phone, page)
    page.goto(address("sign", today))
    expect(page.locator("#seal textarea").first).to_have_value("The licence is being ren")
    for reason in page.locator("#seal .reasons textarea").all():
        reason.fill("As it was.")
    sign_here(page)
    page = goes_off_and_on(phone, page)
    line.mend()
    page.goto("/")
    expect(page.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    record = the_record(today)
    assert record["people"][0]["tasks"] == ["sprayed"]
    assert [step["step"] for step in record["protection"]] == ["downspouts-diverted"]
    assert [each["wind_speed"] for each in record["weather"]["readings"]] == [{"value": "4", "unit": "mph"}]
    assert record["mixes"][0]["diluent"]["amount"] == {"value": "12", "unit": "gal"}
    assert record["mixes"][0]["applied"] == {"value": "11", "unit": "gal"}
    assert record["notes"] == "Dog kep"
