"""What follows from the record is taken at a touch without a signal, also from what was typed so."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.models import Treatment
from tests.browser.test_no_signal import PATIENCE_MS, section, sent

pytestmark = pytest.mark.browser


def made_by(phone: Page, treatment: Treatment) -> dict:
    made = phone.evaluate("id => phoneDocument.of(id)", str(treatment.pk))
    assert made["unreadable"] == []
    return made["document"]


def come_back(phone: Page, line) -> None:
    line.mend()
    phone.goto(reverse("home"))
    phone.wait_for_function("() => shelf.entries().length === 0", timeout=PATIENCE_MS)


def test_all_that_was_mixed_and_none_left_is_one_touch_and_the_same_on_phone_and_record(phone, today, line):
    phone.goto(section(today, "spray"))
    offer = phone.get_by_role("button", name="Take 15 gal: all that was mixed, none left")
    offer.click()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    expect(offer).to_have_count(0)
    (mix,) = made_by(phone, today)["mixes"]
    assert (mix["applied"]["value"], mix["left_over"]) == ("15", {"disposition": "none"})
    phone.goto(section(today, "after"))
    expect(phone.get_by_role("radio", name="none left")).to_be_checked()
    come_back(phone, line)
    assert sent(today)["mixes"] == [mix]


@pytest.mark.long
def test_what_is_left_and_when_people_may_come_back_follow_from_what_was_typed_without_a_signal(
    phone, today, line
):
    phone.goto(section(today, "spray"))
    phone.get_by_label("Finished mix applied", exact=True).fill("14")
    phone.get_by_label("Finished mix applied", exact=True).blur()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.goto(section(today, "after"))
    phone.get_by_role("button", name="Take 1 gal: the rest of what was mixed").click()
    expect(phone.get_by_label("Amount left over", exact=True)).to_have_value("1")
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    (mix,) = made_by(phone, today)["mixes"]
    come_back(phone, line)
    assert sent(today)["mixes"] == [mix]
    assert mix["left_over"] == {"amount": {"value": "1", "unit": "gal"}}
