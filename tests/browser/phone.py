"""What a person does with a phone before a test begins: keep the pages, and set up signing without a signal."""

from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.factories import PASSWORD

KEPT_WITHIN_MS = 40_000
PIN = "blue kettle 9"


def wait_until_kept(page: Page) -> None:
    expect(page.locator("html[data-kept=all]")).to_be_attached(timeout=KEPT_WITHIN_MS)


def keep_all(page: Page) -> None:
    page.goto("/")
    wait_until_kept(page)


def set_up_for_signing(page: Page) -> None:
    page.goto(reverse("devices"))
    page.get_by_label("Name of this device").fill("Yard phone")
    page.get_by_label("A PIN of at least six signs").fill(PIN)
    page.get_by_label("The PIN once more").fill(PIN)
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Set this device up").click()
    expect(page.get_by_text("This device is set up.")).to_be_visible()


def comes_to(page: Page, script: str, value: object) -> None:
    """Waits until the page's script gives the value: what a page does by itself, it does when it has time."""
    for _ in range(200):
        found = page.evaluate(script)
        if found == value:
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"{script} gives {found!r}, not {value!r}")
