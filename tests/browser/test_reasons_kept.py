"""A reason that was typed on the sign page outlives the page, and is gone from the device once it is signed."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from records.models import SignedRecord
from records.record_files import record_file
from tests.factories import PASSWORD

pytestmark = pytest.mark.browser

REASON = "The licence is being renewed."


def test_reasons_come_back_after_a_reload_and_go_with_the_signature(open_page, member, done):
    page = open_page(member)
    page.goto(reverse("sign", kwargs={"uuid": done.pk}))
    reasons = page.get_by_label("Your reason")
    reasons.first.fill(REASON)
    page.reload()
    expect(reasons.first).to_have_value(REASON)
    for reason in reasons.all():
        reason.fill(REASON)
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()
    record = SignedRecord.objects.for_firm(done.firm).get()
    assert {answer["reason"] for answer in record_file(record)["record"]["answers"]} == {REASON}
    page.wait_for_function("Object.keys(localStorage).every((key) => !key.includes('reasons:'))")


def test_somebody_elses_reasons_are_not_shown(open_page, member, colleague, done):
    page = open_page(member)
    page.goto(reverse("sign", kwargs={"uuid": done.pk}))
    page.get_by_label("Your reason").first.fill(REASON)
    storage = page.evaluate("JSON.stringify(localStorage)")
    other = open_page(colleague)
    other.goto("/health/")
    other.evaluate("kept => Object.assign(localStorage, JSON.parse(kept))", storage)
    other.goto(reverse("sign", kwargs={"uuid": done.pk}))
    expect(other.get_by_label("Your reason").first).to_have_value("")
