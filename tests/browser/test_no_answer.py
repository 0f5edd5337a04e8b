"""Where the line goes while something is sent, the phone says so on a page of its own, and where to look."""

import pytest
from playwright.sync_api import Page, expect

from records.models import SignedRecord
from tests.factories import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.long]


def test_a_signature_whose_answer_does_not_come_is_looked_for(with_signal, member, done, line):
    page = with_signal
    page.goto(f"/treatments/{done.pk}/sign/")
    answer(page)
    line.cut()
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("No answer came")
    line.mend()
    page.get_by_role("link", name="Look again").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Check your answers, then sign")
    assert not SignedRecord.objects.for_firm(done.firm).exists()
    answer(page)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()


def answer(page: Page) -> None:
    for box in page.get_by_label("Your reason").all():
        box.fill("As it was.")
    page.locator("#password").fill(PASSWORD)
