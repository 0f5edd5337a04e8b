"""A mix is drawn from a filled tank without a signal: phone and service put the same into the record."""

import json

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.forms.draw import DrawForm
from records.models import Batch, Treatment
from shared import clock
from shared.quantities import Quantity, from_fraction
from tests.browser.phone import comes_to, keep_all
from tests.browser.test_every_page import misfits, violations
from tests.browser.test_signing_without_signal import wait_until_sent
from tests.factories import BatchFactory, LabelVersionFactory

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000


@pytest.fixture
def batch(firm, plan) -> Batch:
    """31 gal, of which a share comes out even for no draw."""
    water = {"name": "water", "amount": {"value": "28", "unit": "gal"}}
    at = clock.now()
    return BatchFactory(firm=firm, rig=plan.rig, mixed_at=at, diluent=water, volume=Quantity("31", "gal"))


@pytest.fixture
def phone(batch, with_key, line) -> Page:
    keep_all(with_key)
    line.cut()
    return with_key


def section(treatment: Treatment, slug: str) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": slug})


def draw(page: Page, amount: str, unit: str = "gal") -> None:
    page.get_by_text("Drawn from a tank that is filled already").click()
    page.get_by_label("Tank filled today").check()
    page.get_by_label("Amount drawn for this treatment").fill(amount)
    page.locator("[name^=draw-][name$=-amount_1]").select_option(label=unit)
    page.get_by_role("button", name="Draw from this tank").click()


def document_of(treatment: Treatment) -> dict:
    treatment.refresh_from_db()
    return treatment.document


def test_a_draw_without_a_signal_is_the_same_on_the_phone_and_in_the_record(phone, today, batch, line):
    phone.goto(section(today, "mix"))
    draw(phone, "12,5")
    expect(phone.locator(".drawn")).to_contain_text("Sample Moss Wash 1.20968 gal")
    expect(phone.get_by_label("Amount of diluent", exact=True)).to_have_value("11.2903")
    phone.goto("/")
    phone.goto(section(today, "mix"))
    expect(phone.get_by_label("Amount of diluent", exact=True)).to_have_value("11.2903")
    phone.get_by_label("Lot number on the container").fill("L-0458")
    phone.get_by_label("Lot number on the container").blur()
    phone.goto(section(today, "spray"))
    phone.get_by_label("Finished mix applied", exact=True).fill("12")
    phone.get_by_label("Finished mix applied", exact=True).blur()
    phone.goto(reverse("sign", kwargs={"uuid": today.pk}))
    made = phone.evaluate("id => phoneDocument.of(id)", str(today.pk))
    assert made["unreadable"] == []
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    (mix,) = document_of(today)["mixes"]
    assert made["document"]["mixes"] == [mix]
    assert mix["loads"] == [{"volume": {"value": "12.5", "unit": "gal"}, "batch": str(batch.pk)}]
    assert (mix["products"][0]["amount"]["value"], mix["products"][0]["lot"]) == ("1.20968", "L-0458")
    assert mix["applied"] == {"value": "12", "unit": "gal"}


@pytest.mark.long
def test_in_another_unit_than_the_tanks_the_share_is_the_same_on_phone_and_in_record(phone, today, line):
    phone.goto(section(today, "mix"))
    draw(phone, "47,5", "L")
    expect(phone.locator(".drawn")).to_contain_text("47.5 L")
    phone.goto(reverse("sign", kwargs={"uuid": today.pk}))
    made = phone.evaluate("id => phoneDocument.of(id)", str(today.pk))
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    (mix,) = document_of(today)["mixes"]
    assert made["document"]["mixes"] == [mix]
    assert mix["loads"][0]["volume"] == {"value": "47.5", "unit": "L"}
    assert mix["products"][0]["amount"] == {"value": "1.21434", "unit": "gal"}


@pytest.mark.long
def test_with_another_unit_typed_behind_the_number_it_is_not_drawn_here_and_said(phone, today):
    phone.goto(section(today, "mix"))
    draw(phone, "12 L")
    expect(phone.locator(".not-done")).to_contain_text("This was not done")
    comes_to(phone, "shelf.entries().length", 0)


@pytest.mark.long
def test_a_tank_that_is_gone_when_the_draw_is_sent_is_said(phone, today, batch, line):
    phone.goto(section(today, "mix"))
    draw(phone, "12")
    expect(phone.locator(".drawn")).to_contain_text("Sample Moss Wash")
    batch.delete()
    line.mend()
    expect(phone.locator("#rows-told")).to_contain_text("was not added", timeout=PATIENCE_MS)
    phone.get_by_label("Lot number on the container").fill("L-0458")
    phone.get_by_label("Lot number on the container").blur()
    expect(phone.locator("#save-state")).to_have_text("Saved.")
    expect(phone.locator("#rows-told")).to_contain_text("was not added")
    assert "loads" not in document_of(today)["mixes"][0]
    phone.goto("/")
    expect(phone.locator("#waiting li")).to_have_count(1)


SHARES = [
    ("3", ("47.5", "L"), "31", "1.21434"),
    ("3", ("12.5", "qt"), "31", "0.302419"),
    ("3", ("1", "fl_oz"), ("1000", "L"), "0.000088721"),
    ("3", "12.5", "31", "1.20968"),
    ("27", "12", "30", "10.8"),
    ("0.000001", "1", "3", "0.000000333"),
    ("0.000000001", "1", "3", "0"),
    ("1", "1", "8", "0.125"),
    ("123456789", "1", "2", "61728400"),
    ("2", "2", "3", "1.33333"),
    ("1999999", "1", "2", "1000000"),
    ("0.1", "1", "64", "0.0015625"),
]


def test_the_phone_rounds_a_share_as_the_service_does(open_page, member, draft):
    page = open_page(member)
    page.goto(section(draft, "mix"))
    for *amounts, share in SHARES:
        given = [Quantity(*(each if isinstance(each, tuple) else (each, "gal"))) for each in amounts]
        told = json.dumps([*(each.as_json() for each in given), DrawForm.units])
        made = page.evaluate(f"drawing.share(...{told})")
        of_it, drawn, all_of_it = given
        exact = of_it.exact * drawn.base / all_of_it.base
        assert made == from_fraction(exact, "gal").as_json() == {"value": share, "unit": "gal"}


@pytest.mark.long
def test_with_a_signal_the_same_button_draws_on_the_service(open_page, member, today, batch):
    page = open_page(member)
    page.goto(section(today, "mix"))
    page.get_by_text("Drawn from a tank that is filled already").click()
    assert violations(page) + misfits(page, "en") == []
    page.get_by_text("Drawn from a tank that is filled already").click()
    draw(page, "12")
    expect(page.get_by_label("Volume of the load", exact=True)).to_have_value("12")
    assert document_of(today)["mixes"][0]["loads"][0]["batch"] == str(batch.pk)


@pytest.mark.long
def test_a_limit_of_the_label_that_is_in_a_tank_is_told_once_it_was_drawn(firm, with_key, today, line, plan):
    LabelVersionFactory(firm=firm, product__name="Sample Lichen Wash", registration_number="99999-77")
    products = [{"name": "Sample Lichen Wash", "amount": {"value": "3", "unit": "gal"}}]
    water = {"name": "water", "amount": {"value": "27", "unit": "gal"}}
    volume = Quantity("30", "gal")
    BatchFactory(firm=firm, rig=plan.rig, mixed_at=clock.now(), products=products, diluent=water, volume=volume)
    keep_all(with_key)
    line.cut()
    with_key.goto(section(today, "mix"))
    draw(with_key, "12")
    expect(with_key.locator(".drawn")).to_contain_text("Sample Lichen Wash 1.2 gal")
    with_key.goto(section(today, "weather"))
    with_key.get_by_role("button", name="Add a reading").click()
    with_key.get_by_label("Wind speed", exact=True).fill("12")
    with_key.get_by_label("Wind speed", exact=True).blur()
    told = with_key.locator(".remark.told-here.not_met")
    expect(told).to_contain_text("label of Sample Lichen Wash")
    expect(with_key.locator(".limits-known")).to_be_hidden()


@pytest.mark.long
def test_more_than_is_left_in_the_tank_is_said_with_what_is_left_and_still_drawn(phone, today):
    phone.goto(section(today, "mix"))
    said = phone.locator(".over-drawn")
    draw(phone, "31")
    expect(phone.locator(".drawn")).to_contain_text("Sample Moss Wash 3 gal")
    expect(said).to_be_hidden()
    phone.get_by_label("Amount drawn for this treatment").fill("31.001")
    phone.get_by_role("button", name="Draw from this tank").click()
    expect(said).to_contain_text("should have been left in this tank: 31 gal")
    expect(phone.locator(".drawn")).to_contain_text("31.001 gal")
    phone.goto("/")
    phone.goto(section(today, "mix"))
    expect(said).to_be_visible()
