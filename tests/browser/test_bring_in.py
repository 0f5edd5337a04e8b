"""A manager brings an old log in on a phone, answers what it asks, and takes it back."""

import pytest

from records.models import ArrivalFile, Treatment
from tests.browser.conftest import PHONE
from tests.records.services.test_bringing_in import LOG

pytestmark = [pytest.mark.browser, pytest.mark.long]
ASKS = LOG.replace("2024-04-03", "03/04/2024").replace("Amount (gal)", "Amount")


def test_a_log_comes_in_and_goes_back_on_a_phone(open_page, colleague):
    page = open_page(colleague, width=PHONE)
    page.goto("/account/")
    page.get_by_role("link", name="Bring in past years").click()
    page.get_by_label("Spreadsheet").set_input_files(
        {"name": "log.csv", "mimeType": "text/csv", "buffer": ASKS.encode()}
    )
    page.get_by_role("button", name="Look at it").click()
    assert page.get_by_label("Client").input_value() == "customer"
    page.get_by_role("button", name="Look at all rows").click()
    page.get_by_label("Day first: 03/04 is April 3").check()
    page.get_by_label("In which unit is this: amount of product?").select_option("gal")
    page.get_by_role("button", name="Read it so").click()
    page.get_by_role("button", name="Bring in all of it").click()
    page.get_by_role("link", name="Treatments that were brought in").click()
    page.get_by_role("link", name="2024-0001").click()
    assert page.get_by_text("Nobody signed it here.").is_visible()
    page.get_by_role("link", name="The file that it came from").click()
    page.get_by_role("button", name="Take all of it back").click()
    assert page.get_by_text("Taken back by J. Quill").is_visible()
    assert not Treatment.objects.for_firm(colleague.firm).exists()
    assert bytes(ArrivalFile.objects.for_firm(colleague.firm).get().content) == ASKS.encode()
