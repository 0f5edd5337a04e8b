"""The key on a phone opens with its PIN in the browser where it was made, and nowhere else."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from records.models import Membership
from tests.browser.conftest import OpenPage
from tests.browser.phone import PIN, set_up_for_signing

pytestmark = pytest.mark.browser

WRONG = "red kettle 8"
SIGN = """async ([firm, pin]) => {
  try {
    return (await deviceKey.sign(firm, pin, new Uint8Array([1, 2, 3]))).length > 0 ? "signed" : "";
  } catch (error) {
    return error instanceof deviceKey.WrongPin ? `wrong PIN, tries left: ${error.message}` : "useless";
  }
}"""
AS_OF_OLD = """async ([place, pin]) => {
  const text = (bytes) => btoa(String.fromCharCode(...new Uint8Array(bytes)));
  const pair = await crypto.subtle.generateKey({ name: "ECDSA", namedCurve: "P-256" }, true, ["sign"]);
  const half = await crypto.subtle.exportKey("pkcs8", pair.privateKey);
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const written = new TextEncoder().encode(pin);
  const known = await crypto.subtle.importKey("raw", written, "PBKDF2", false, ["deriveKey"]);
  const how = { name: "PBKDF2", hash: "SHA-256", salt, iterations: 600000 };
  const lock = await crypto.subtle.deriveKey(how, known, { name: "AES-GCM", length: 256 }, false, ["encrypt"]);
  const locked = await crypto.subtle.encrypt({ name: "AES-GCM", iv }, lock, half);
  onDisk.put(place, { salt: text(salt), iv: text(iv), locked: text(locked), tries: 5, id: "1", device: "Old" });
}"""


@pytest.fixture
def phone(open_page: OpenPage, member) -> Page:
    page = open_page(member)
    set_up_for_signing(page)
    return page


@pytest.fixture
def elsewhere(open_page: OpenPage, member) -> Page:
    """Another browser of the same person."""
    page = open_page(member)
    page.goto(reverse("devices"))
    return page


def place(member: Membership) -> str:
    return f"device-key:{member.user.pk}/{member.firm.pk}"


def row_of(page: Page, member: Membership) -> str | None:
    return page.evaluate("place => localStorage.getItem(place)", place(member))


def put_row(page: Page, member: Membership, row: str | None) -> None:
    page.evaluate("([place, row]) => onDisk.put(place, JSON.parse(row))", [place(member), row])


def sign(page: Page, member: Membership, pin: str = PIN) -> str:
    return page.evaluate(SIGN, [str(member.firm.pk), pin])


def test_a_copy_of_what_the_phone_keeps_signs_nowhere_else(phone, elsewhere, member):
    put_row(elsewhere, member, row_of(phone, member))
    assert sign(elsewhere, member, WRONG) == "useless"
    put_row(elsewhere, member, row_of(phone, member))
    assert sign(elsewhere, member) == "useless"
    assert sign(phone, member) == "signed"


def test_each_wrong_pin_counts_and_the_right_one_gives_the_tries_back(phone, member):
    assert sign(phone, member, WRONG) == "wrong PIN, tries left: 4"
    assert sign(phone, member, WRONG) == "wrong PIN, tries left: 3"
    phone.reload()
    assert sign(phone, member) == "signed"
    assert sign(phone, member, WRONG) == "wrong PIN, tries left: 4"


def test_after_five_wrong_pins_a_copy_that_is_put_back_is_of_no_use(phone, member):
    copy = row_of(phone, member)
    for left in (4, 3, 2, 1, 0):
        assert sign(phone, member, WRONG) == f"wrong PIN, tries left: {left}"
    assert row_of(phone, member) is None
    put_row(phone, member, copy)
    assert sign(phone, member) == "useless"


def test_a_key_of_earlier_days_still_signs_and_is_bound_to_the_browser_by_that(phone, elsewhere, member):
    phone.evaluate(AS_OF_OLD, [place(member), PIN])
    assert sign(phone, member, WRONG) == "wrong PIN, tries left: 4"
    put_row(elsewhere, member, row_of(phone, member))
    assert sign(elsewhere, member) == "signed"
    assert sign(phone, member) == "signed"
    phone.reload()
    assert sign(phone, member) == "signed"
    copy = row_of(phone, member)
    put_row(elsewhere, member, copy)
    assert sign(elsewhere, member) == "useless"


def test_a_new_key_after_the_first_was_ended_signs(phone, member):
    phone.goto(reverse("devices"))
    phone.get_by_role("button", name="End it Yard phone").click()
    assert row_of(phone, member) is None
    set_up_for_signing(phone)
    assert sign(phone, member) == "signed"
