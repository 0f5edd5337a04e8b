"""A product, a person or a rig that is not on the plan is chosen without a signal; it stands in the record as
the service writes it."""

from datetime import date, timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.models import LabelVersion, Person, Seal, Treatment
from records.selectors import document_of
from shared import clock
from tests.browser.phone import comes_to, keep_all
from tests.browser.test_signing_without_signal import sign, wait_until_sent
from tests.factories import CalibrationFactory, LabelVersionFactory, LicenceFactory, PersonFactory

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000
FORGET_ROWS = """async () => {
  for (const name of await caches.keys()) await (await caches.open(name)).delete("/choices/");
}"""


@pytest.fixture(autouse=True)
def rows(firm, plan) -> LabelVersion:
    """A product, a person and a rig that nobody has planned with."""
    helper = PersonFactory(firm=firm, name="T. Alder", role="helper")
    LicenceFactory(firm=firm, person=helper, number="CO-00777")
    CalibrationFactory(firm=firm, rig__name="Rig 9", on=date(2026, 9, 1))
    return LabelVersionFactory(firm=firm, product__name="Sample Lichen Wash", registration_number="99999-77")


@pytest.fixture
def phone(with_key, line) -> Page:
    line.cut()
    return with_key


def section(treatment: Treatment, slug: str) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": slug})


def choose(page: Page, treatment: Treatment, slug: str, one: str, name: str) -> None:
    page.goto(section(treatment, slug))
    page.get_by_label(one, exact=True).select_option(label=name)
    page.get_by_role("button", name=f"Add a {one.lower()}").click()
    expect(page.get_by_role("group", name=name)).to_be_focused()


def choose_all(page: Page, treatment: Treatment) -> None:
    choose(page, treatment, "arrive", "Person", "T. Alder")
    page.get_by_role("group", name="T. Alder").get_by_label("hose").check()
    choose(page, treatment, "mix", "Rig", "Rig 9")
    choose(page, treatment, "mix", "Product", "Sample Lichen Wash")
    line = page.get_by_role("group", name="Sample Lichen Wash")
    line.get_by_label("Lot number on the container").fill("L-0900")
    line.get_by_label("Amount of product", exact=True).fill("0,5")
    line.get_by_label("Amount of product", exact=True).blur()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")


def test_a_product_is_shown_with_what_its_label_says_and_is_there_after_a_reload(phone, today):
    choose_all(phone, today)
    phone.goto("/")
    phone.goto(section(today, "mix"))
    line = phone.get_by_role("group", name="Sample Lichen Wash")
    expect(line).to_contain_text("99999-77")
    expect(line).to_contain_text("wind speed: at most 10 mph")
    expect(line).to_contain_text("chemical-resistant gloves, goggles")
    expect(line.get_by_label("Amount of product", exact=True)).to_have_value("0,5")
    rig = phone.get_by_role("group", name="Rig 9")
    rig.get_by_text("Method, tank").click()
    expect(rig.get_by_label("Tank", exact=True)).to_have_value("35")
    expect(rig.get_by_label("air gap")).to_be_checked()


@pytest.mark.long
def test_what_the_phone_makes_of_the_choices_is_what_the_service_makes_of_them(phone, today, line):
    choose_all(phone, today)
    phone.goto(reverse("sign", kwargs={"uuid": today.pk}))
    made = phone.evaluate("id => phoneDocument.of(id)", str(today.pk))
    assert made["unreadable"] == []
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    assert [each["name"] for each in today.document["people"]] == ["R. Osei", "T. Alder"]
    assert [each["name"] for each in today.document["equipment"]] == ["Rig 2", "Rig 9"]
    (_planned, lichen) = today.document["mixes"][0]["products"]
    assert (lichen["label"]["version"], lichen["lot"], lichen["amount"]["value"]) == (
        "2025-03",
        "L-0900",
        "0.5",
    )
    assert today.document["people"][1]["licences"][0]["number"] == "CO-00777"
    for name in ("people", "mixes", "equipment"):
        assert made["document"][name] == today.document[name]


@pytest.mark.long
def test_a_record_with_a_chosen_product_is_signed_without_a_signal_and_received(phone, today, line):
    choose_all(phone, today)
    sign(phone, today)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    signed = document_of(Seal.objects.for_firm(today.firm).get().signed_record)
    assert [each["name"] for each in signed["mixes"][0]["products"]] == [
        "Sample Moss Wash",
        "Sample Lichen Wash",
    ]


@pytest.mark.long
def test_who_chose_a_product_whose_label_was_changed_meanwhile_is_told(phone, today, line, rows):
    choose(phone, today, "mix", "Product", "Sample Lichen Wash")
    rows.version = "2026-05"
    rows.save()
    phone.goto("/")
    line.mend()
    expect(phone.locator("#rows-said")).to_contain_text(
        "Sample Lichen Wash: the reference data were changed", timeout=PATIENCE_MS
    )
    phone.get_by_role("link", name="Show it").click()
    expect(phone.get_by_role("group", name="Sample Lichen Wash")).to_contain_text("2026-05")
    today.refresh_from_db()
    assert today.document["mixes"][0]["products"][1]["label"]["version"] == "2026-05"


@pytest.mark.long
def test_what_was_typed_into_a_row_that_is_there_no_more_waits_and_is_said(phone, today, line, firm):
    choose(phone, today, "arrive", "Person", "T. Alder")
    phone.get_by_role("group", name="T. Alder").get_by_label("hose").check()
    Person.objects.for_firm(firm).filter(name="T. Alder").update(active=False)
    line.mend()
    expect(phone.locator("#rows-told")).to_contain_text("was not added", timeout=PATIENCE_MS)
    phone.goto("/")
    expect(phone.locator("#waiting li")).to_have_count(2)
    today.refresh_from_db()
    assert [each["name"] for each in today.document["people"]] == ["R. Osei"]


@pytest.mark.long
def test_a_choice_is_taken_out_and_put_back_without_a_signal(phone, today, line):
    choose(phone, today, "mix", "Product", "Sample Lichen Wash")
    phone.get_by_role("button", name="Remove Sample Lichen Wash").click()
    expect(phone.get_by_role("group", name="Sample Lichen Wash")).to_have_count(0)
    comes_to(phone, "shelf.entries().length", 0)
    phone.get_by_role("button", name="Undo").click()
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    today.refresh_from_db()
    assert len(today.document["mixes"][0]["products"]) == 2


@pytest.mark.long
def test_a_row_that_this_phone_does_not_keep_is_not_chosen_and_it_says_so(phone, today, firm):
    phone.goto(section(today, "mix"))
    phone.evaluate(FORGET_ROWS)
    phone.get_by_label("Product", exact=True).select_option(label="Sample Lichen Wash")
    phone.get_by_role("button", name="Add a product").click()
    expect(phone.locator(".not-done")).to_contain_text("This was not done")


@pytest.mark.long
def test_on_a_coming_day_the_label_of_that_day_is_chosen(with_key, today, line, rows):
    begins = clock.now().date() + timedelta(days=2)
    LabelVersionFactory(firm=rows.firm, product=rows.product, version="2027-01", valid_from=begins)
    keep_all(with_key)
    line.cut()
    with_key.clock.install(time=clock.now() + timedelta(days=4))
    choose(with_key, today, "mix", "Product", "Sample Lichen Wash")
    expect(with_key.get_by_role("group", name="Sample Lichen Wash")).to_contain_text("2027-01")


def enter_wind(page: Page, treatment: Treatment, speed: str) -> None:
    page.goto(section(treatment, "weather"))
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).fill(speed)
    page.get_by_label("Wind speed", exact=True).blur()


@pytest.mark.long
def test_a_limit_of_a_label_that_was_chosen_without_a_signal_is_told(phone, today):
    choose(phone, today, "mix", "Product", "Sample Lichen Wash")
    enter_wind(phone, today, "12")
    told = phone.locator(".remark.told-here.not_met", has_text="label of Sample Lichen Wash")
    expect(told).to_have_count(1)
    expect(phone.locator(".limits-known")).to_be_hidden()


@pytest.mark.long
def test_of_a_label_that_is_not_kept_the_phone_says_that_it_tells_no_limits(phone, today):
    choose(phone, today, "mix", "Product", "Sample Lichen Wash")
    phone.evaluate(FORGET_ROWS)
    enter_wind(phone, today, "9")
    said = "This device does not know the label of Sample Lichen Wash"
    expect(phone.locator(".limits-known")).to_contain_text(said)
    phone.goto(reverse("sign", kwargs={"uuid": today.pk}))
    expect(phone.locator("#seal .limits-known")).to_contain_text(said)
