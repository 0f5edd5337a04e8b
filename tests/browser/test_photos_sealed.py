"""A record that is signed on the phone without a signal names the photos that are still only on the phone."""

from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.models import Photo, SignedRecord, Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock
from tests.browser.test_signing_without_signal import address, fill_in, sign, the_record
from tests.pictures import digest, large_jpeg

pytestmark = pytest.mark.browser

PATIENCE_MS = 40_000
PICTURE = large_jpeg(3_000_000)
TITLE = "downspouts diverted"


@pytest.fixture
def today(firm, member, plan) -> Treatment:
    treatment = plan_treatment(firm, member.user, replace(plan, planned_at=clock.now()))
    step = {"id": "0a4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11", "step": "storm-drains-covered"}
    edit_draft(treatment, [Edit("tick", f"protection[{step['id']}]", step, 0)], member.user)
    return treatment


@pytest.fixture
def phone(with_key, line) -> Page:
    """It has a key, everything is kept, and then the signal is gone."""
    line.cut()
    return with_key


def take(page: Page, treatment: Treatment) -> None:
    page.goto(address("section", treatment, section="protect"))
    file = {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": PICTURE}
    page.get_by_label(f"Take a photo: {TITLE}").set_input_files(file)
    expect(page.get_by_role("group", name=f"Photos: {TITLE}").get_by_role("listitem")).to_have_count(1)


@pytest.mark.long
def test_the_signature_goes_after_the_photos_that_it_names(phone, today, line):
    fill_in(phone, today)
    take(phone, today)
    sign(phone, today)
    phone.goto("/")
    expect(phone.locator("#photos-here")).to_contain_text("belong to what was signed on it")
    expect(phone.locator("#photos-here")).not_to_contain_text("cannot be signed", use_inner_text=True)
    line.mend()
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    expect(phone.locator("#kept-page")).to_be_hidden()
    covered, diverted = the_record(today)["protection"]
    assert "evidence" not in covered
    assert [each["sha256"] for each in diverted["evidence"]] == [digest(PICTURE)]
    assert Photo.objects.for_firm(today.firm).get().is_whole


def test_what_is_signed_on_the_phone_takes_no_more_photos(phone, today):
    fill_in(phone, today)
    sign(phone, today)
    phone.goto(address("section", today, section="protect"))
    expect(phone.get_by_label("Take a photo: storm drains covered")).to_be_disabled()
    assert not SignedRecord.objects.for_firm(today.firm).exists()


@pytest.mark.long
def test_an_incident_that_was_added_and_photographed_without_a_signal_is_signed_with_its_photo(
    phone, today, line
):
    fill_in(phone, today)
    phone.get_by_label("Nothing went wrong").uncheck()
    phone.get_by_role("button", name="Add an incident").click()
    incident = phone.get_by_role("group", name="Incident 1", exact=True)
    incident.get_by_label("In your words").fill("Hose burst.")
    incident.get_by_label("In your words").blur()
    file = {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": PICTURE}
    phone.get_by_label("Take a photo: Incident 1").set_input_files(file)
    expect(phone.get_by_role("group", name="Photos: Incident 1").get_by_role("listitem")).to_have_count(1)
    sign(phone, today)
    phone.goto("/")
    line.mend()
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    (incident,) = the_record(today)["incidents"]
    assert incident["description"] == "Hose burst."
    assert [each["sha256"] for each in incident["evidence"]] == [digest(PICTURE)]
