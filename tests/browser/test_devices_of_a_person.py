"""The devices of a person: set up, lost, ended, and those whose key is elsewhere."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.models import DeviceKey
from tests.browser.phone import PIN
from tests.factories import PASSWORD

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000
FORGET_PAGES = """async () => {
  for (const name of await caches.keys()) if (name.startsWith("pages-")) await caches.delete(name);
}"""
READING = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"


@pytest.mark.long
def test_a_lost_device_is_ended_by_its_person(with_key, member):
    with_key.goto(reverse("devices"))
    with_key.get_by_role("button", name="End it Yard phone").click()
    expect(with_key.get_by_role("button", name="Set this device up")).to_be_visible()
    assert DeviceKey.objects.for_firm(member.firm).get().revocation.by == member.user


def set_up_without_an_answer(page: Page) -> None:
    """The service takes the key, and its answer is lost on the way."""
    page.goto(reverse("devices"))
    page.get_by_label("Name of this device").fill("Van phone")
    page.get_by_label("A PIN of at least six signs").fill(PIN)
    page.get_by_label("The PIN once more").fill(PIN)
    page.locator("#password").fill(PASSWORD)
    page.route("**/devices/", lambda route: (route.fetch(), route.abort()))
    page.get_by_role("button", name="Set this device up").click()
    expect(page.get_by_text("This did not work.")).to_be_visible()
    page.unroute("**/devices/")


def test_a_key_whose_answer_is_lost_is_on_the_phone_all_the_same(open_page, member):
    page = open_page(member)
    set_up_without_an_answer(page)
    page.reload()
    expect(page.get_by_text("This device is set up.")).to_be_visible()
    expect(page.locator("[data-own] li")).to_contain_text("this device")
    kept = page.evaluate("deviceKey.kept(document.getElementById('set-up').dataset.firm).id")
    assert kept == str(DeviceKey.objects.for_firm(member.firm).get().pk)


@pytest.mark.long
def test_a_device_whose_key_is_elsewhere_is_marked_in_the_list(with_key, open_page, member):
    with_key.goto(reverse("devices"))
    expect(with_key.locator("[data-own] li")).to_contain_text("this device")
    expect(with_key.get_by_text("its key is not on this device")).to_be_hidden()
    with_key.evaluate("deviceKey.forget(document.getElementById('set-up').dataset.firm)")
    with_key.reload()
    expect(with_key.get_by_text("its key is not on this device")).to_be_visible()
