"""A left-over that was kept becomes a mix of its own without a signal: phone and service make the same."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock
from tests.browser.phone import comes_to, keep_all
from tests.browser.test_a_whole_mix_without_signal import fill, made_by_the_phone, second_mix
from tests.browser.test_choosing_without_signal import section
from tests.browser.test_every_page import misfits, violations
from tests.browser.test_signing_without_signal import PATIENCE_MS, sign, the_record, wait_until_sent

pytestmark = pytest.mark.browser


@pytest.fixture
def yesterday(firm, member, plan) -> Treatment:
    """The day before, of which 1.3 gal was kept."""
    before = plan_treatment(firm, member.user, replace(plan, planned_at=clock.now() - timedelta(days=1)))
    mix = before.document["mixes"][0]["id"]
    left = {"amount": {"value": "1.3", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    edit_draft(before, [Edit("left", f"mixes[{mix}].left_over", left, before.revision)], member.user)
    return before


@pytest.fixture
def phone(yesterday, with_key, line) -> Page:
    keep_all(with_key)
    line.cut()
    return with_key


def use_it(page: Page, treatment: Treatment) -> None:
    page.goto(section(treatment, "mix"))
    page.get_by_role("button", name="Use it here first").click()
    expect(second_mix(page)).to_be_focused()
    expect(second_mix(page)).to_contain_text("0.13 gal")


@pytest.mark.long
def test_it_is_the_same_mix_on_the_phone_and_in_the_record(phone, today, line, yesterday):
    use_it(phone, today)
    assert violations(phone) + misfits(phone, "en") == []
    phone.goto(section(today, "spray"))
    fill(second_mix(phone), "Finished mix applied", "1.3")
    made = made_by_the_phone(phone, today)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert today.document["mixes"] == made["mixes"]
    mix = today.document["mixes"][1]
    assert mix["products"][0]["amount"] == {"value": "0.13", "unit": "gal"}
    assert mix["loads"] == [{"volume": {"value": "1.3", "unit": "gal"}, "from_record": yesterday.number}]
    assert mix["applied"] == {"value": "1.3", "unit": "gal"}


@pytest.mark.long
def test_a_record_in_which_it_was_used_is_signed_without_a_signal_and_received(phone, today, line):
    use_it(phone, today)
    sign(phone, today)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert len(the_record(today)["mixes"]) == 2


@pytest.mark.long
def test_it_is_saved_in_place_on_a_later_screen_when_the_signal_is_back(phone, today, line):
    use_it(phone, today)
    phone.goto(section(today, "spray"))
    fill(second_mix(phone), "Finished mix applied", "1.2")
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    expect(second_mix(phone).locator(".keep[data-state=waiting]")).to_have_count(0)
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert today.document["mixes"][1]["applied"]["value"] == "1.2"


@pytest.mark.long
def test_it_is_taken_out_again_and_pressed_twice_it_is_one(phone, today):
    use_it(phone, today)
    phone.get_by_role("button", name="Use it here first").click()
    expect(phone.get_by_role("button", name="Remove Mix 2")).to_have_count(1)
    phone.get_by_role("button", name="Remove Mix 2").click()
    expect(phone.get_by_role("button", name="Remove Mix 2")).to_have_count(0)
    comes_to(phone, "shelf.entries().length", 0)


@pytest.mark.long
def test_one_that_somebody_else_has_used_meanwhile_is_said(phone, today, line, firm, member, plan, yesterday):
    use_it(phone, today)
    other = plan_treatment(firm, member.user, replace(plan, planned_at=clock.now()))
    volume = {"value": "1.3", "unit": "gal"}
    mix = other.document["mixes"][0]["id"]
    loads = [{"volume": volume, "from_record": yesterday.number}]
    edit_draft(other, [Edit("theirs", f"mixes[{mix}].loads", loads, other.revision)], member.user)
    line.mend()
    expect(phone.locator("#rows-told")).to_contain_text("was not added", timeout=PATIENCE_MS)
    today.refresh_from_db()
    assert len(today.document["mixes"]) == 1
    phone.goto(reverse("home"))
    expect(phone.locator("#waiting li")).to_have_count(1)
