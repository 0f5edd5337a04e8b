"""A whole mix is added, filled and sprayed without a signal; the record has it as the phone has made it."""

import json
import re

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from records.models import Seal, Treatment
from shared import clock
from tests.browser.phone import comes_to, keep_all
from tests.browser.test_choosing_without_signal import section
from tests.browser.test_every_page import misfits, violations
from tests.browser.test_signing_without_signal import PATIENCE_MS, sign, the_record, wait_until_sent
from tests.factories import BatchFactory, LabelVersionFactory

pytestmark = pytest.mark.browser


@pytest.fixture(autouse=True)
def lichen(firm, plan) -> None:
    """A product that nobody has planned with."""
    LabelVersionFactory(firm=firm, product__name="Sample Lichen Wash", registration_number="99999-77")


@pytest.fixture
def batch(firm, plan):
    return BatchFactory(firm=firm, rig=plan.rig, mixed_at=clock.now())


@pytest.fixture
def phone(batch, with_key, line) -> Page:
    keep_all(with_key)
    line.cut()
    return with_key


def second_mix(page: Page) -> Locator:
    return page.get_by_role("group", name="Mix 2", exact=True)


def add_mix(page: Page, treatment: Treatment) -> Locator:
    page.goto(section(treatment, "mix"))
    page.get_by_role("button", name="Add a mix").click()
    expect(second_mix(page)).to_be_focused()
    return second_mix(page)


def fill(within: Locator, label: str, text: str) -> None:
    box = within.get_by_label(label, exact=True)
    box.fill(text)
    box.blur()


def choose_into(mix: Locator) -> None:
    mix.get_by_label("Product", exact=True).select_option(label="Sample Lichen Wash")
    mix.get_by_role("button", name="Add a product").click()
    line = mix.get_by_role("group", name="Sample Lichen Wash")
    expect(line).to_contain_text("99999-77")
    fill(line, "Lot number on the container", "L-0900")
    fill(line, "Amount of product", "0,5")


def make_whole(page: Page, treatment: Treatment) -> None:
    mix = add_mix(page, treatment)
    choose_into(mix)
    mix.get_by_label(re.compile("^Diluent")).fill("water")
    fill(mix, "Amount of diluent", "9.5")
    for number, gallons in ((1, "6"), (2, "4")):
        mix.get_by_role("button", name="Add a load").click()
        fill(mix.get_by_role("group", name=f"Load {number}"), "Volume of the load", gallons)
    page.goto(section(treatment, "spray"))
    fill(second_mix(page), "Finished mix applied", "9")
    page.goto(section(treatment, "after"))
    fill(second_mix(page), "Amount left over", "1")
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")


def made_by_the_phone(page: Page, treatment: Treatment) -> dict:
    page.goto(reverse("sign", kwargs={"uuid": treatment.pk}))
    made = page.evaluate("id => phoneDocument.of(id)", str(treatment.pk))
    assert made["unreadable"] == []
    return made["document"]


def test_a_mix_that_is_added_filled_and_sprayed_is_the_same_on_the_phone_and_in_the_record(phone, today, line):
    make_whole(phone, today)
    made = made_by_the_phone(phone, today)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    (planned, mix) = today.document["mixes"]
    assert made["mixes"] == [planned, mix]
    (line_,) = mix["products"]
    assert (line_["registration_number"], line_["lot"]) == ("99999-77", "L-0900")
    assert line_["amount"] == {"value": "0.5", "unit": "gal"}
    assert mix["diluent"] == {"name": "water", "amount": {"value": "9.5", "unit": "gal"}}
    assert [load["volume"]["value"] for load in mix["loads"]] == ["6", "4"]
    assert (mix["applied"]["value"], mix["left_over"]["amount"]["value"]) == ("9", "1")


@pytest.mark.long
def test_a_record_with_a_mix_of_the_phones_own_is_signed_without_a_signal_and_received(phone, today, line):
    make_whole(phone, today)
    sign(phone, today)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert json.loads(bytes(Seal.objects.for_firm(today.firm).get().document)) == the_record(today)
    assert len(the_record(today)["mixes"]) == 2


@pytest.mark.long
def test_it_is_there_after_a_reload_and_saved_in_place_when_the_signal_is_back(phone, today, line):
    make_whole(phone, today)
    phone.goto(section(today, "mix"))
    mix = second_mix(phone)
    expect(mix.get_by_label("Lot number on the container")).to_have_value("L-0900")
    load = mix.get_by_role("group", name="Load 2")
    expect(load.get_by_label("Volume of the load", exact=True)).to_have_value("4")
    assert violations(phone) + misfits(phone, "en") == []
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    fill(mix, "Amount of diluent", "9.6")
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    (_planned, mix) = today.document["mixes"]
    assert (mix["diluent"]["amount"]["value"], mix["applied"]["value"]) == ("9.6", "9")
    assert mix["products"][0]["lot"] == "L-0900"


@pytest.mark.long
def test_it_is_taken_out_with_what_was_typed_into_it_on_every_screen(phone, today, line):
    make_whole(phone, today)
    phone.goto(section(today, "mix"))
    phone.get_by_role("button", name="Remove Mix 2").click()
    expect(second_mix(phone)).to_have_count(0)
    comes_to(phone, "shelf.entries().length", 0)
    phone.get_by_role("button", name="Undo").click()
    made = made_by_the_phone(phone, today)
    assert (made["mixes"][1]["applied"]["value"], len(made["mixes"][1]["loads"])) == ("9", 2)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert today.document["mixes"] == made["mixes"]


@pytest.mark.long
def test_a_mix_of_the_phones_own_is_drawn_from_a_filled_tank(phone, today, line, batch):
    mix = add_mix(phone, today)
    mix.get_by_text("Drawn from a tank that is filled already").click()
    mix.get_by_label(re.compile("Tank filled today")).check()
    mix.get_by_label("Amount drawn for this treatment").fill("12")
    mix.get_by_role("button", name="Draw from this tank").click()
    expect(mix.locator(".drawn")).to_contain_text("Sample Moss Wash 1.2 gal")
    made = made_by_the_phone(phone, today)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert today.document["mixes"] == made["mixes"]
    assert today.document["mixes"][1]["loads"][0]["batch"] == str(batch.pk)


@pytest.mark.long
def test_a_load_is_added_to_the_planned_mix(phone, today, line):
    phone.goto(section(today, "mix"))
    phone.get_by_role("button", name="Add a load").click()
    fill(phone.get_by_role("group", name="Load 1"), "Volume of the load", "15")
    made = made_by_the_phone(phone, today)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert today.document["mixes"] == made["mixes"]
    assert today.document["mixes"][0]["loads"][0]["volume"]["value"] == "15"
