"""Where a person can sign out they are told what is still only on the phone, and that only they can send it."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE, OpenPage
from tests.browser.test_every_page import misfits, violations
from tests.browser.test_signing_without_signal import fill_in, sign
from tests.pictures import jpeg

pytestmark = pytest.mark.browser

SIGN_OUT, ACCOUNT = reverse("account_logout"), reverse("account")
KEEP_PHOTO = """async ([bytes, about]) => {
  await photoShelf.keep(new File([new Uint8Array(bytes)], "photo.jpg"), about);
}"""


@pytest.fixture
def phone(with_key: Page, today, line) -> Page:
    """Without a signal entries were typed, the record was signed, and a photo was taken; nothing of it goes."""
    page = with_key
    line.cut()
    fill_in(page, today)
    sign(page, today)
    about = {
        "treatment": str(today.pk),
        "number": today.number,
        "step": "storm-drains-covered",
        "title": "covered",
    }
    page.evaluate(KEEP_PHOTO, [list(jpeg(80, 60)), {**about, "address": f"/treatments/{today.pk}/photos/"}])
    page.context.route(
        re.compile(f"/{today.pk}/"),
        lambda route: route.abort() if route.request.method == "POST" else route.continue_(),
    )
    line.mend()
    return page


@pytest.mark.parametrize("place", [SIGN_OUT, ACCOUNT])
@pytest.mark.long
def test_what_waits_is_counted_with_the_word_that_only_its_person_can_send_it(phone, place):
    phone.goto(place)
    entries = phone.evaluate("shelf.entries().length")
    left = phone.locator("#left-here")
    expect(left).to_contain_text(f"Entries: {entries}")
    expect(left).to_contain_text("Signed records: 1")
    expect(left).to_contain_text("Photos: 1")
    expect(left).to_contain_text("until you yourself sign in on this device again")
    assert entries > 1
    for width in (PHONE, DESK):
        phone.set_viewport_size({"width": width, "height": 844})
        assert violations(phone) == []
        assert misfits(phone, "en") == []
    left.get_by_role("link", name="Send it now, on Today").click()
    expect(phone.locator("#waiting li")).to_have_count(entries)


@pytest.mark.long
def test_in_spanish_it_is_said_too(phone):
    phone.goto(SIGN_OUT)
    phone.get_by_role("button", name="Español").click()
    expect(phone.locator("#left-here")).to_contain_text("hasta que usted vuelva a iniciar sesión")
    expect(phone.locator("#left-here")).to_contain_text("Registros firmados: 1")


@pytest.mark.long
def test_who_is_of_no_firm_any_more_is_told_too(phone, member):
    member.delete()
    phone.goto("/")
    expect(phone.get_by_role("heading", name="Your role does not open this page")).to_be_visible()
    expect(phone.locator("#left-here")).to_contain_text("Signed records: 1")


def test_without_anything_that_waits_and_of_what_is_somebody_elses_nothing_is_said(open_page: OpenPage, member):
    page = open_page(member)
    page.goto(SIGN_OUT)
    page.evaluate("localStorage.setItem('typed:somebody/place/1', JSON.stringify({ states: [] }))")
    for place in (SIGN_OUT, ACCOUNT):
        page.goto(place)
        page.wait_for_load_state("networkidle")
        page.evaluate("photoShelf.waiting()")
        expect(page.locator("#left-here")).to_be_hidden()
