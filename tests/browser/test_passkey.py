"""A record is signed with a passkey that the person has added to the account (W3C Web Authentication)."""

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.models import SignedRecord, Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock
from tests.factories import PASSWORD

pytestmark = pytest.mark.browser

AUTHENTICATOR = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


@pytest.fixture
def worked(firm, member, plan) -> Treatment:
    """A treatment of the last hour, by the clock of this machine: the browser has no other."""
    begun = clock.now() - timedelta(hours=1)
    treatment = plan_treatment(firm, member.user, replace(plan, planned_at=begun))
    typed = {
        "record.result": "treated",
        "timing.started_at": begun.isoformat(timespec="seconds"),
        "timing.finished_at": (begun + timedelta(minutes=30)).isoformat(timespec="seconds"),
    }
    edits = [Edit(path, path, value, treatment.revision) for path, value in typed.items()]
    edit_draft(treatment, edits, member.user)
    return treatment


@pytest.fixture
def with_passkey(open_page, member, worked) -> Page:
    page = open_page(member)
    device = page.context.new_cdp_session(page)
    device.send("WebAuthn.enable")
    made = device.send("WebAuthn.addVirtualAuthenticator", {"options": AUTHENTICATOR})
    page.verified = lambda holds: device.send(
        "WebAuthn.setUserVerified", {"authenticatorId": made["authenticatorId"], "isUserVerified": holds}
    )
    page.goto(reverse("mfa_add_webauthn"))
    if page.get_by_label("Password").is_visible():
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Confirm").click()
    page.wait_for_url(lambda url: reverse("mfa_add_webauthn") in url)
    page.get_by_role("button", name="Add").click()
    page.wait_for_url(lambda url: reverse("mfa_add_webauthn") not in url)
    return page


def sign(page: Page, treatment: Treatment) -> None:
    page.goto(reverse("sign", kwargs={"uuid": treatment.pk}))
    for reason in page.locator("form[data-signs] textarea").all():
        reason.fill("As it was.")
    page.get_by_role("button", name="Sign and lock it with a passkey").click()


def test_a_record_is_signed_with_a_passkey_and_no_password(with_passkey, worked, member):
    sign(with_passkey, worked)
    expect(with_passkey).to_have_url(re.compile("/signed/$"))
    assert SignedRecord.objects.for_firm(worked.firm).get().by == member.user


def test_who_is_not_verified_by_the_passkey_signs_nothing_and_keeps_the_reasons(with_passkey, worked):
    with_passkey.verified(False)
    sign(with_passkey, worked)
    expect(with_passkey.get_by_text("The passkey did not confirm it.")).to_be_visible()
    expect(with_passkey.locator("form[data-signs] textarea").first).to_have_value("As it was.")
    assert not SignedRecord.objects.for_firm(worked.firm).exists()
