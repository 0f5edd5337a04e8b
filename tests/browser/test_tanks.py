"""The page of the tanks: filled in on a phone, read on a desk, in both languages, with what is wrong said."""

import pytest
from playwright.sync_api import Page, expect

from records.models import Batch
from tests.browser.conftest import DESK, PHONE
from tests.browser.test_every_page import misfits, violations

pytestmark = pytest.mark.browser

WORDS = {
    "en": ("Product", "Amount of product", "Amount of water", "Record this tank", "30 gal of 30 gal"),
    "es": ("Producto", "Cantidad de producto", "Cantidad de agua", "Anotar este tanque", "Quedan 30 gal"),
}


def complaints(page: Page, language: str) -> list[str]:
    return violations(page) + misfits(page, language)


@pytest.mark.parametrize(("width", "language"), [(PHONE, "en"), (DESK, "es")])
def test_a_tank_is_filled_in_mended_and_listed(open_page, member, firm, plan, width, language):
    product, amount, water, record, left = WORDS[language]
    page = open_page(member, width=width, language=language)
    page.goto("/")
    page.get_by_role("link", name={"en": "Tanks", "es": "Tanques"}[language], exact=True).click()
    page.locator("details summary").click()
    assert complaints(page, language) == []
    page.get_by_label(product, exact=True).first.select_option(label="Sample Moss Wash")
    page.get_by_label(amount, exact=True).first.fill("3")
    page.get_by_label(amount, exact=True).nth(1).fill("1")
    page.get_by_label(water, exact=True).fill("27")
    page.get_by_role("button", name=record).click()
    expect(page.get_by_role("alert").get_by_role("link")).to_have_count(1)
    assert complaints(page, language) == []
    page.get_by_role("alert").get_by_role("link").click()
    expect(page.get_by_label(product, exact=True).nth(1)).to_be_focused()
    page.get_by_label(amount, exact=True).nth(1).fill("")
    page.get_by_role("button", name=record).click()
    expect(page.get_by_text(left)).to_be_visible()
    assert complaints(page, language) == []
    assert Batch.objects.for_firm(firm).get().products[0]["name"] == "Sample Moss Wash"
