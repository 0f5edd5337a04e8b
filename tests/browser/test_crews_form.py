"""The crew's form in wet gloves and in the sun: what is touched is large, what is read stands out, by day and
by night, and keys alone are enough.

Contrast of at least 7:1 is WCAG 2.2, success criterion 1.4.6 (level AAA); 48 px for a gloved thumb is common
practice, no source.
"""

import gzip
import re
from pathlib import Path
from urllib.parse import urlparse

import pytest
from django.contrib.staticfiles import finders
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.forms.sections import ASIDE, SECTIONS
from records.models import Treatment
from records.services.drafts import edit_draft
from tests.browser.conftest import PHONE
from tests.browser.test_every_page import LEAST_TARGET, misfits, violations

pytestmark = pytest.mark.browser

SCREENS = (*SECTIONS, *ASIDE)
LEAST_CONTRAST = 7
MOST_BYTES = 150_000
PATIENCE_MS = 20_000
READING = "0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11"

CONTRASTS = """() => {
  const parts = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = (colour) => {
    const [r, g, b] = parts(colour).slice(0, 3).map((c) => c / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if ((parts(colour)[3] ?? 1) === 1) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const found = [];
  const texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const element = texts.currentNode.parentElement;
    if (!texts.currentNode.textContent.trim() || !element.checkVisibility()) continue;
    if (element.closest(".visually-hidden, svg, option, template, script")) continue;
    const [one, other] = [light(getComputedStyle(element).color), light(behind(element))].sort((a, b) => b - a);
    found.push([(one + 0.05) / (other + 0.05), texts.currentNode.textContent.trim().slice(0, 60)]);
  }
  return found;
}"""

TOUCHED = (
    "main :is(button, select, textarea, summary, a.button, label.choice, "
    "input:not([type=hidden], [type=checkbox], [type=radio]))"
)
TARGETS = """(touched) => [...document.querySelectorAll(touched)]
  .filter((each) => each.checkVisibility() && !each.closest(".visually-hidden"))
  .map((each) => [each.getBoundingClientRect(), each.outerHTML.slice(0, 160)])
  .map(([box, html]) => [Math.round(box.width), Math.round(box.height), html])"""


@pytest.fixture
def filled(done, member) -> Treatment:
    """A draft with a little of everything on its screens: things to protect, a reading, steps, a fault."""
    reading = {"at": "2026-09-14T09:05:00-07:00", "source": "estimate"}
    reading |= {"wind_speed": {"value": "18", "unit": "mph"}, "wind_from": {"value": "225", "unit": "degree"}}
    values = {
        f"weather.readings[{READING}]": reading,
        f"protection[{READING}]": {"step": "downspouts-diverted"},
        "notices": [],
        "timing.reentry_at": "soon",
    }
    edits = [Edit(path, path, value, done.revision) for path, value in values.items()]
    edit_draft(done, edits, member.user)
    return done


def open_all(page: Page) -> None:
    page.evaluate("document.querySelectorAll('main details').forEach((each) => (each.open = true))")


@pytest.mark.long
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_screen_is_accessible_and_strong_in_contrast_by_day_and_by_night(
    open_page, member, filled, language
):
    page = open_page(member, language=language)
    addresses = [f"/treatments/{filled.pk}/form/{section.slug}/" for section in SCREENS]
    found = {}
    for address in (*addresses, f"/treatments/{filled.pk}/sign/", f"/treatments/{filled.pk}/"):
        page.goto(address)
        open_all(page)
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            contrasts = page.evaluate(CONTRASTS)
            assert len(contrasts) > 20
            weak = [each for each in contrasts if each[0] < LEAST_CONTRAST]
            if complaints := violations(page) + misfits(page, language) + weak:
                found[address, scheme] = complaints
    assert found == {}


@pytest.mark.long
def test_the_dark_look_is_dark(open_page, member, filled):
    page = open_page(member)
    page.goto(f"/treatments/{filled.pk}/form/weather/")
    colours = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        colours.append(page.evaluate("getComputedStyle(document.body).backgroundColor"))
    assert colours == ["rgb(255, 255, 255)", "rgb(15, 22, 19)"]


def test_whatever_is_touched_is_large_enough_for_a_gloved_thumb(open_page, member, filled):
    page = open_page(member)
    small = {}
    for section in SCREENS:
        page.goto(f"/treatments/{filled.pk}/form/{section.slug}/")
        open_all(page)
        targets = page.evaluate(TARGETS, TOUCHED)
        assert targets
        small[section.slug] = [each for each in targets if min(each[:2]) < LEAST_TARGET]
    assert {slug: each for slug, each in small.items() if each} == {}


def test_every_screen_fits_on_the_narrowest_phone(open_page, member, filled):
    """320 px: WCAG 2.2, success criterion 1.4.10."""
    page = open_page(member, width=320)
    for section in SCREENS:
        page.goto(f"/treatments/{filled.pk}/form/{section.slug}/")
        open_all(page)
        assert misfits(page, "en") == [], section.slug


def test_a_screen_is_filled_in_by_keys_alone(open_page, member, filled):
    page = open_page(member)
    page.goto(f"/treatments/{filled.pk}/form/weather/")
    page.get_by_label("Wind speed", exact=True).focus()
    page.keyboard.press("ControlOrMeta+A")
    page.keyboard.type("5")
    page.keyboard.press("Tab")
    units = page.get_by_role("radiogroup", name="Unit of: Wind speed")
    expect(units.get_by_label("mph")).to_be_focused()
    page.keyboard.press("ArrowRight")
    expect(units.get_by_label("knots")).to_be_checked()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    tab_to(page, "[aria-label=south-west]")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio", name="west-south-west", exact=True)).to_be_checked()
    tab_to(page, "#answers .end .button")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Mix")
    filled.refresh_from_db()
    (reading,) = filled.document["weather"]["readings"]
    assert reading["wind_speed"] == {"value": "5", "unit": "knot"}
    assert reading["wind_from"] == {"value": "247.5", "unit": "degree"}


def tab_to(page: Page, selector: str) -> None:
    """By the Tab key alone; a screen that is a trap, or longer than it may be, never gets there."""
    for _ in range(40):
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"the keys do not lead to {selector}")


def test_the_bar_says_where_one_is_and_leads_back_and_on(open_page, member, filled):
    page = open_page(member)
    page.goto(f"/treatments/{filled.pk}/form/arrive/")
    titles = ["Arrive", "Protect", "Weather", "Mix", "Spray", "After", "Check your answers, then sign"]
    bar = page.get_by_role("navigation", name="The steps of the work")
    for number, title in enumerate(titles, 1):
        expect(page.get_by_role("heading", level=1)).to_have_text(title)
        expect(bar).to_contain_text(f"Step {number} of 7")
        if number < len(titles):
            page.wait_for_load_state()
            bar.get_by_role("button").click()
    bar.get_by_role("link").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("After")


def test_what_is_seen_of_the_wind_is_filled_in_without_a_connection(open_page, member, filled):
    page = open_page(member)
    page.goto(f"/treatments/{filled.pk}/form/weather/")
    page.context.set_offline(True)
    open_all(page)
    page.get_by_role("button", name="Felt on the face").click()
    expect(page.get_by_label("Wind speed", exact=True)).to_have_value("7")
    expect(page.get_by_text("force 2, 4 to 7 mph. The upper end stands here")).to_be_visible()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    page.context.set_offline(False)
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    filled.refresh_from_db()
    (reading,) = filled.document["weather"]["readings"]
    assert (reading["wind_speed"], reading["calm"]) == ({"value": "7", "unit": "mph"}, False)


def test_a_tick_that_is_saved_in_place_answers_the_question_and_brings_its_own(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/protect/")
    still = page.get_by_text("Fill in", exact=False).filter(has_text="Protection")
    none = page.get_by_label("None of these was done")
    expect(none).to_be_visible()
    page.get_by_label("downspouts diverted", exact=True).check()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    expect(none).to_have_count(0)
    expect(still).to_have_count(0)
    page.locator("details.item").evaluate("details => { details.open = true; }")
    page.get_by_label("Note").fill("to the hedge")
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        page.get_by_label("Note").blur()
    draft.refresh_from_db()
    (step,) = draft.document["protection"]
    assert (step["step"], step["note"]) == ("downspouts-diverted", "to the hedge")


@pytest.mark.long
def test_a_tick_is_taken_out_again_on_the_page_that_made_it(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/protect/")
    box = page.get_by_label("downspouts diverted", exact=True)
    box.check()
    expect(page.get_by_text("downspouts diverted: where, when and by whom")).to_be_visible()
    box.uncheck()
    expect(page.locator("#taken-out")).to_contain_text("Taken out: downspouts diverted.")
    expect(page.get_by_text("downspouts diverted: where, when and by whom")).to_have_count(0)
    expect(page.get_by_label("None of these was done")).to_be_visible()
    draft.refresh_from_db()
    assert "protection" not in draft.document


@pytest.mark.long
def test_a_tick_that_is_taken_out_can_be_put_back(open_page, member, filled):
    page = open_page(member)
    page.goto(f"/treatments/{filled.pk}/form/protect/")
    page.get_by_label("downspouts diverted", exact=True).uncheck()
    page.get_by_role("button", name="Undo: downspouts diverted").click()
    expect(page.get_by_label("downspouts diverted", exact=True)).to_be_checked()
    filled.refresh_from_db()
    assert [step["id"] for step in filled.document["protection"]] == [READING]


@pytest.mark.long
def test_a_reading_that_only_this_phone_knows_can_be_put_back(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/weather/")
    page.context.set_offline(True)
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).fill("5")
    page.get_by_role("button", name="Remove Reading 1").click()
    expect(page.get_by_label("Wind speed", exact=True)).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("Wind speed", exact=True)).to_have_value("5")
    page.context.set_offline(False)
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    draft.refresh_from_db()
    assert draft.document["weather"]["readings"][0]["wind_speed"]["value"] == "5"


def test_script_and_style_of_the_form_are_light(open_page, member, filled):
    page = open_page(member, width=PHONE)
    page.goto(f"/treatments/{filled.pk}/form/weather/")
    addresses = page.evaluate(
        "[...document.querySelectorAll('script[src], link[rel=stylesheet], svg use')]"
        ".map((each) => each.src || (each.href.baseVal ?? each.href))"
    )
    paths = {urlparse(address).path.removeprefix("/static/") for address in addresses}
    files = [finders.find(re.sub(r"\.[0-9a-f]{12}(?=\.\w+$)", "", path)) for path in paths]
    assert len(files) > 8
    assert sum(len(gzip.compress(Path(file).read_bytes())) for file in files) <= MOST_BYTES
