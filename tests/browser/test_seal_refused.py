"""A signature that the service refuses, and so has not stored, stays on the phone until it is taken back."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.models import Seal, Treatment
from tests.browser.test_signing_without_signal import PATIENCE_MS, address, fill_in, sign

pytestmark = pytest.mark.browser

SPOIL = """id => {
  const seal = sealedHere.of(id);
  const value = seal.sent.value;
  seal.sent.value = (value[0] === "A" ? "B" : "A") + value.slice(1);
  sealedHere.put(seal);
  return value;
}"""
HEAL = "([id, value]) => { const s = sealedHere.of(id); s.sent.value = value; sealedHere.put(s); }"


@pytest.fixture
def phone(with_key, line) -> Page:
    line.cut()
    return with_key


@pytest.fixture
def refused(phone, today, line) -> Page:
    """Signed without a signal with a signature that does not hold; then the signal is back."""
    fill_in(phone, today)
    sign(phone, today)
    phone.evaluate(SPOIL, str(today.pk))
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("the service refuses it", timeout=PATIENCE_MS)
    return phone


def kept(page: Page, treatment: Treatment) -> dict:
    return page.evaluate("id => sealedHere.of(id)", str(treatment.pk))


@pytest.mark.long
def test_each_page_says_why_and_leads_to_where_it_is_taken_back(refused, today):
    assert not Seal.objects.for_firm(today.firm).exists()
    assert kept(refused, today)["sent"]["value"]
    for place in (address("treatment", today), address("sign", today), "/"):
        refused.goto(place)
        expect(refused.locator("#sealed")).to_contain_text("has not stored it")
        expect(refused.locator("#sealed")).to_contain_text("This signature does not hold")
        expect(refused.locator("#sealed")).not_to_contain_text("received")
    refused.get_by_role("link", name="Look at it, or take the signature back").click()
    refused.locator("#sealed").get_by_role("button", name="Take the signature back").click()
    expect(refused.locator("#sealed")).to_be_hidden()
    assert kept(refused, today) is None


@pytest.mark.long
def test_its_form_is_locked_and_says_so_until_it_is_taken_back(refused, today):
    refused.goto(address("section", today, section="after"))
    expect(refused.locator("#sealed-refused")).to_contain_text("This signature does not hold")
    expect(refused.locator("#sealed-note")).to_be_hidden()
    expect(refused.get_by_label("Notes")).to_be_disabled()
    refused.locator("#sealed-refused").get_by_role("link").click()
    refused.locator("#sealed").get_by_role("button", name="Take the signature back").click()
    expect(refused.locator("#sealed")).to_be_hidden()
    refused.goto(address("section", today, section="after"))
    expect(refused.get_by_label("Notes")).to_be_enabled()


@pytest.mark.long
def test_without_a_signal_it_is_still_said_and_taken_back_where_it_was_given(refused, today, line):
    line.cut()
    refused.goto(address("sign", today))
    expect(refused.locator("#sealed")).to_contain_text("This signature does not hold")
    expect(refused.get_by_text("Signed on this device. It is sent")).to_be_hidden()
    refused.locator("#sealed").get_by_role("button", name="Take the signature back").click()
    expect(refused.get_by_label("The PIN of this device")).to_be_visible()


@pytest.mark.long
def test_a_page_sends_it_again_once_and_no_more(refused, today):
    refused.clock.install()
    sent: list[str] = []
    refused.on("request", lambda asked: sent.append(asked.url) if asked.url.endswith("/seal/") else None)
    refused.goto("/")
    expect(refused.locator("#sealed")).to_contain_text("the service refuses it")
    for _ in range(4):
        refused.clock.run_for(5_000)
        refused.evaluate("fetch('/manifest.webmanifest').then((answer) => answer.status)")
    assert [place.endswith(reverse("seal", kwargs={"uuid": today.pk})) for place in sent] == [True]


@pytest.mark.long
def test_what_the_service_takes_at_last_is_signed_and_leaves_the_phone(phone, today, line):
    fill_in(phone, today)
    sign(phone, today)
    value = phone.evaluate(SPOIL, str(today.pk))
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("the service refuses it", timeout=PATIENCE_MS)
    phone.evaluate(HEAL, [str(today.pk), value])
    phone.reload()
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert kept(phone, today) is None


@pytest.mark.long
def test_in_spanish_it_is_said_too(refused, today):
    refused.get_by_role("button", name="Español").click()
    expect(refused.locator("#sealed")).to_contain_text("el servicio lo rechaza")
    refused.goto(address("section", today, section="after"))
    expect(refused.locator("#sealed-refused")).to_contain_text("no la ha guardado")
