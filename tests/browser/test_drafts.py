"""Nothing typed is lost: no connection, a reload, two people at once, no scripts."""

import re
from datetime import datetime

import pytest
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft
from tests.browser.conftest import DESK, WIDTHS
from tests.browser.phone import comes_to

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000


@pytest.fixture
def address(draft) -> str:
    return f"/treatments/{draft.pk}/form/mix/"


def document_of(draft: Treatment) -> dict:
    draft.refresh_from_db()
    return draft.document


def diluent(draft: Treatment) -> dict:
    return document_of(draft)["mixes"][0]["diluent"]["amount"]


def water(page: Page):
    return page.get_by_label("Amount of diluent", exact=True)


def test_a_change_is_saved_at_once_and_stands_after_a_reload(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    water(page).fill("12,5")
    water(page).blur()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    page.reload()
    expect(water(page)).to_have_value("12.5")
    assert diluent(draft) == {"value": "12.5", "unit": "gal"}


def test_a_box_that_is_ticked_before_the_scripts_are_there_is_saved(open_page, member, draft):
    page = open_page(member)
    held = []
    page.route("**/htmx*.js", lambda route: held.append(route))
    page.goto(f"/treatments/{draft.pk}/form/arrive/", wait_until="commit")
    page.get_by_label("sprayed").check()
    page.wait_for_function("document.readyState === 'interactive'")
    held[0].continue_()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    assert document_of(draft)["people"][0]["tasks"] == ["sprayed"]


@pytest.mark.long
def test_what_is_typed_and_chosen_before_the_scripts_are_there_is_saved(open_page, member, draft):
    page = open_page(member)
    held = []
    page.route("**/htmx*.js", lambda route: held.append(route))
    page.goto(f"/treatments/{draft.pk}/form/spray/", wait_until="commit")
    finished = page.get_by_role("group", name="Spraying finished")
    finished.get_by_label("Day").fill("2026-09-14")
    finished.get_by_label("Time").fill("09:47")
    page.get_by_label("Finished mix applied", exact=True).fill("14")
    page.get_by_label("Finished mix applied", exact=True).blur()
    held[0].continue_()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    document = document_of(draft)
    assert document["timing"]["finished_at"] == "2026-09-14T09:47:00-07:00"
    assert document["mixes"][0]["applied"]["value"] == "14"


@pytest.mark.long
def test_a_page_on_which_nothing_was_typed_sends_nothing(open_page, member, draft):
    page = open_page(member)
    sent = []
    page.on("request", lambda request: request.method == "POST" and sent.append(request.url))
    for slug in ("arrive", "protect", "weather", "mix", "spray", "after"):
        page.goto(f"/treatments/{draft.pk}/form/{slug}/")
        assert page.evaluate("shelf.entries().length") == 0
    assert sent == []


@pytest.mark.long
def test_another_unit_keeps_the_value(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.get_by_label("Unit of: Amount of diluent").select_option("L")
    expect(page.locator("#save-state")).to_have_text("Saved.")
    assert diluent(draft) == {"value": "13.5", "unit": "L"}


def test_without_a_connection_it_says_so_and_saves_when_there_is_one(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.context.set_offline(True)
    water(page).fill("12")
    water(page).blur()
    field = page.locator("[data-field]").filter(has=water(page))
    expect(field.locator(".keep")).to_have_text("Waits")
    expect(page.locator("#not-saved")).to_contain_text("Not saved yet: no connection")
    assert diluent(draft)["value"] == "13.5"
    page.context.set_offline(False)
    expect(page.locator("#save-state")).to_have_text("Saved.")
    expect(field.locator(".keep")).to_have_text("")
    expect(page.locator("#not-saved")).to_be_hidden()
    assert diluent(draft)["value"] == "12"


def test_what_was_typed_without_a_connection_comes_back_after_a_reload(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.route("**/form/mix/", lambda route: route.abort() if is_saving(route) else route.continue_())
    water(page).fill("12")
    water(page).blur()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    page.unroute("**/form/mix/")
    page.reload()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    expect(water(page)).to_have_value("12")
    assert diluent(draft)["value"] == "12"


def test_what_was_typed_over_an_earlier_value_stands_although_the_quick_storage_lost_it(
    open_page, member, draft, address
):
    page = open_page(member)
    page.goto(address)
    page.route("**/form/mix/", lambda route: route.abort() if is_saving(route) else route.continue_())
    quick_storage = "Object.entries(localStorage).find(([key]) => key.startsWith('typed:'))"
    water(page).fill("8")
    earlier = page.evaluate(quick_storage)
    water(page).fill("7")
    page.evaluate("onDisk.written()")
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", earlier)
    page.goto(address)
    expect(water(page)).to_have_value("7")
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", earlier)
    page.unroute("**/form/mix/")
    with page.expect_response("**/form/mix/"):
        page.goto(f"/treatments/{draft.pk}/")  # which sends what waits
    assert diluent(draft)["value"] == "7"


def is_saving(route) -> bool:
    return route.request.method == "POST"


def test_what_does_not_parse_stays_as_typed_with_its_sentence(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    water(page).fill("about ten")
    water(page).blur()
    field = page.locator("[data-field]").filter(has=water(page))
    expect(field.locator(".sentence")).to_be_visible()
    page.reload()
    expect(water(page)).to_have_value("about ten")
    expect(field.locator(".sentence")).to_be_visible()
    assert diluent(draft)["value"] == "13.5"


@pytest.mark.long
def test_now_without_a_connection_is_the_time_of_this_device(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/spray/")
    page.route("**/form/spray/", lambda route: route.abort() if is_saving(route) else route.continue_())
    page.get_by_role("button", name="Now: Spraying started").click()
    started = page.get_by_role("group", name="Spraying started")
    expect(started.get_by_label("Time")).not_to_have_value("")
    expect(started.locator(".keep")).to_have_text("Waits")
    page.unroute("**/form/spray/")
    page.reload()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    assert document_of(draft)["timing"]["started_at"]


@pytest.mark.long
def test_now_without_a_connection_stays_what_it_was_when_it_is_sent(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/spray/")
    page.clock.install(time=datetime.fromisoformat("2026-09-14T16:12:00+00:00"))
    page.context.set_offline(True)
    page.get_by_role("button", name="Now: Spraying started").click()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    page.context.set_offline(False)
    expect(page.locator("#save-state")).to_have_text("Saved.")
    assert document_of(draft)["timing"]["started_at"].startswith("2026-09-14T09:12:")


@pytest.mark.long
def test_what_cannot_be_added_without_a_connection_is_said_at_the_button(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/arrive/")
    page.route("**/form/arrive/", lambda route: route.abort() if is_saving(route) else route.continue_())
    page.get_by_text("Planned time and permits").click()
    page.get_by_role("button", name="Add a permit").click()
    expect(page.locator(".adder").filter(has_text="Add a permit")).to_contain_text("This was not done")


@pytest.mark.long
def test_what_was_added_although_the_answer_was_lost_stands_once(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/spray/")
    page.route("**/form/spray/", lambda route: (route.fetch(), route.abort()), times=1)
    page.get_by_role("button", name="Add a reading").click()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)  # the time of the reading
    wind = page.get_by_label("Wind speed", exact=True)
    with page.expect_response("**/form/spray/"):
        wind.fill("4")
        wind.blur()
    expect(page.locator(".conflict")).to_have_count(0)
    (reading,) = document_of(draft)["weather"]["readings"]
    assert reading["wind_speed"]["value"] == "4"
    page.reload()
    expect(wind).to_have_count(1)


@pytest.mark.long
def test_going_on_without_a_connection_stays_where_the_next_page_is_not_kept(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.route("**/form/mix/", lambda route: route.abort() if is_saving(route) else route.continue_())
    page.get_by_role("button", name="Save and go on").click()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    expect(page.locator("h1")).to_have_text("Mix")
    page.unroute("**/form/mix/")
    page.get_by_role("button", name="Save and go on").click()
    expect(page.locator("h1")).to_have_text("Spray")


@pytest.mark.parametrize("width", WIDTHS)
def test_a_button_leaves_the_page_where_it_stood(open_page, member, draft, width):
    page = open_page(member, width=width)
    page.goto(f"/treatments/{draft.pk}/form/spray/")
    now = page.get_by_role("button", name="Now: Spraying started")
    now.scroll_into_view_if_needed()
    before = page.evaluate("scrollY")
    now.click()
    started = page.get_by_role("group", name="Spraying started")
    expect(started.get_by_label("Time")).not_to_have_value("")
    expect(now).to_be_focused()
    comes_to(page, "scrollY", before)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.long
def test_what_was_added_is_in_sight_and_has_the_focus(open_page, member, draft, width):
    page = open_page(member, width=width)
    page.goto(f"/treatments/{draft.pk}/form/weather/")
    page.get_by_role("button", name="Add a reading").click()
    added = page.get_by_role("group", name="Reading 1")
    expect(added).to_be_focused()
    expect(added.get_by_role("heading")).to_be_in_viewport()


def test_two_who_change_the_same_member_are_asked_which_is_right(open_page, member, colleague, draft, address):
    page = open_page(member)
    page.goto(address)
    change_meanwhile(draft, colleague, "11")
    water(page).fill("12")
    water(page).blur()
    question = page.locator(".conflict")
    expect(question).to_contain_text("Mine: 12 gal")
    expect(question).to_contain_text("The other: 11 gal")
    assert diluent(draft)["value"] == "11"
    page.reload()
    expect(question).to_contain_text("Mine: 12 gal")
    page.get_by_role("button", name="Mine: 12 gal").click()
    expect(question).to_have_count(0)
    assert diluent(draft)["value"] == "12"


@pytest.mark.long
def test_who_changes_something_else_sees_what_a_colleague_changed(open_page, member, colleague, draft, address):
    page = open_page(member)
    page.goto(address)
    change_meanwhile(draft, colleague, "11")
    page.get_by_label("Lot number on the container").fill("L-0458")
    page.get_by_label("Lot number on the container").blur()
    expect(water(page)).to_have_value("11")
    assert document_of(draft)["mixes"][0]["products"][0]["lot"] == "L-0458"
    assert diluent(draft)["value"] == "11"


def test_who_was_signed_out_is_told_and_loses_nothing(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.context.clear_cookies(name="sessionid")
    water(page).fill("12")
    water(page).blur()
    expect(page.locator("#save-state")).to_contain_text("you have been signed out")
    expect(water(page)).to_have_value("12")


@pytest.mark.long
def test_who_types_into_what_was_signed_meanwhile_is_told(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    draft.state = "signed"
    draft.save()
    water(page).fill("12")
    water(page).blur()
    expect(page.locator("#save-state")).to_contain_text("this page is out of date")
    assert diluent(draft)["value"] == "13.5"


@pytest.mark.parametrize("status", [400, 404, 413])
@pytest.mark.parametrize(
    ("language", "words"),
    [("en", "the service refuses what this page sends"), ("es", "el servicio rechaza lo que envía")],
)
@pytest.mark.long
def test_what_the_service_refuses_is_not_called_a_missing_connection(
    open_page, member, draft, address, status, language, words
):
    page = open_page(member, language=language)
    page.goto(address)
    page.route(
        "**/form/mix/", lambda route: route.fulfill(status=status) if is_saving(route) else route.continue_()
    )
    water = page.locator("[data-field]:has([name$='diluent.amount']) input[type=text]").first
    water.fill("12")
    water.blur()
    expect(page.locator("#save-state")).to_contain_text(words)
    page.unroute("**/form/mix/")
    page.reload()
    expect(water).to_have_value("12")


def change_meanwhile(draft: Treatment, colleague, value: str) -> None:
    draft.refresh_from_db()
    path = f"mixes[{draft.document['mixes'][0]['id']}].diluent.amount"
    edit = Edit("by-a-colleague", path, {"value": value, "unit": "gal"}, draft.revision)
    edit_draft(draft, [edit], colleague.user)


@pytest.mark.long
def test_a_unit_typed_behind_the_number_is_the_unit_that_is_shown(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    water(page).fill("50 L")
    water(page).blur()
    expect(page.get_by_label("Unit of: Amount of diluent")).to_have_value("L")
    expect(water(page)).to_have_value("50")
    assert diluent(draft) == {"value": "50", "unit": "L"}


def test_without_scripts_the_button_saves_and_faults_are_summed_up(open_page, member, draft, address):
    page = open_page(member, width=DESK, scripts=False)
    page.goto(address)
    water(page).fill("about ten")
    page.get_by_label("Lot number on the container").fill("L-0458")
    page.get_by_role("button", name="Save and go on").click()
    summary = page.get_by_role("alert")
    expect(summary).to_contain_text("Amount of diluent")
    expect(page).to_have_title(re.compile("^Error: "))
    expect(water(page)).to_have_value("about ten")
    water(page).fill("12")
    page.get_by_role("button", name="Save and go on").click()
    expect(page.locator("h1")).to_have_text("Spray")
    assert diluent(draft)["value"] == "12"
    assert document_of(draft)["mixes"][0]["products"][0]["lot"] == "L-0458"


@pytest.mark.long
def test_without_scripts_items_are_added_and_removed(open_page, member, draft):
    page = open_page(member, scripts=False)
    page.goto(f"/treatments/{draft.pk}/form/spray/")
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).fill("4")
    page.get_by_role("button", name="Add a pause").click()
    assert document_of(draft)["weather"]["readings"][0]["wind_speed"] == {"value": "4", "unit": "mph"}
    assert len(draft.document["timing"]["pauses"]) == 1
    page.get_by_role("button", name="Remove Pause 1").click()
    assert document_of(draft)["timing"].get("pauses") in (None, [])


@pytest.mark.long
def test_the_calculator_puts_its_amounts_into_the_mix(open_page, member, draft, address):
    page = open_page(member)
    page.goto(address)
    page.get_by_text("Work out the mix").click()
    page.get_by_label("Area to treat").fill("2600")
    page.get_by_label("Coverage").fill("1.3")
    page.get_by_label("Dilution").fill("1:15")
    page.get_by_label("Tank (optional)").fill("25")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator(".result")).to_contain_text("2.1125 gal")
    page.get_by_role("button", name="Put these amounts into the mix").click()
    expect(water(page)).to_have_value("31.6875")
    mix = document_of(draft)["mixes"][0]
    assert mix["products"][0]["amount"] == {"value": "2.1125", "unit": "gal"}
    assert [load["volume"]["value"] for load in mix["loads"]] == ["25", "8.8"]
