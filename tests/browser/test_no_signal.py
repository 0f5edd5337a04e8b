"""The day's treatments open and take entries without a signal, and what was typed is sent when it is back."""

import re
from datetime import datetime, timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from records.models import Treatment
from shared import clock
from tests.browser.phone import comes_to, wait_until_kept

pytestmark = pytest.mark.browser

PATIENCE_MS = 20_000
PAGES_OF_PEOPLE = "caches.keys().then((names) => names.filter((name) => name.startsWith('pages-')))"


def section(treatment: Treatment, slug: str) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": slug})


def sent(treatment: Treatment) -> dict:
    treatment.refresh_from_db()
    return treatment.document


def test_today_and_each_page_of_a_treatment_open_and_say_that_they_are_kept_ones(phone, today):
    phone.goto("/")
    expect(phone.locator("#kept-page")).to_contain_text("No connection. This page is from this device")
    phone.get_by_role("link", name=today.number).click()
    for title in ("Arrive", "Protect", "Weather", "Mix", "Spray", "After"):
        phone.locator("main").get_by_role("link", name=title).click()
        expect(phone.get_by_role("heading", level=1)).to_have_text(title)
        expect(phone.locator("#kept-page")).to_be_visible()
        phone.get_by_role("link", name=f"Treatment {today.number}").click()


@pytest.mark.long
def test_what_is_typed_on_several_pages_goes_when_the_signal_is_back(phone, today, line):
    phone.goto(section(today, "spray"))
    phone.get_by_role("button", name="Now").first.click()
    phone.get_by_role("button", name="Save and go on").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("After")
    phone.get_by_label("Notes").fill("Dog kept in.")
    phone.get_by_label("Notes").blur()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.goto("/")
    expect(phone.locator("#waiting li")).to_have_count(2)
    expect(phone.locator("#waiting li").last).to_contain_text(f"Treatment {today.number}, After: Notes")
    assert "notes" not in sent(today)
    line.mend()
    expect(phone.locator("#waiting")).to_be_hidden(timeout=PATIENCE_MS)
    document = sent(today)
    assert document["notes"] == "Dog kept in."
    assert datetime.fromisoformat(document["timing"]["started_at"]) <= clock.now()


@pytest.mark.long
def test_a_step_that_was_ticked_without_a_signal_was_done_when_it_was_ticked(phone, today, line):
    phone.clock.install(time=clock.now() - timedelta(minutes=40))
    phone.goto(section(today, "protect"))
    phone.get_by_text("Other steps").click()
    phone.get_by_label("storm drains covered").check()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.goto("/")
    expect(phone.locator("#waiting li")).to_have_count(1)
    line.mend()
    expect(phone.locator("#waiting")).to_be_hidden(timeout=PATIENCE_MS)
    (step,) = sent(today)["protection"]
    ago = clock.now() - datetime.fromisoformat(step["at"])
    assert timedelta(minutes=38) < ago < timedelta(minutes=43)


@pytest.mark.long
def test_another_page_says_what_is_kept_and_where(phone):
    phone.goto("/treatments/")
    expect(phone.get_by_role("heading", level=1)).to_have_text("No connection")
    phone.get_by_role("link", name="Today").last.click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Today")


@pytest.mark.long
def test_a_server_that_fails_or_is_slow_is_as_good_as_none(with_signal, today):
    page = with_signal
    page.context.route(re.compile("/form/mix/"), lambda route: route.fulfill(status=502, body="bad gateway"))
    page.goto(section(today, "mix"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Mix")


@pytest.mark.long
def test_what_was_saved_meanwhile_stands_in_the_kept_page(with_signal, today, line):
    page = with_signal
    page.goto(section(today, "after"))
    wait_until_kept(page)
    page.evaluate("delete document.documentElement.dataset.kept")
    page.get_by_label("Notes").fill("Gate was locked.")
    page.get_by_label("Notes").blur()
    wait_until_kept(page)
    line.cut()
    page.reload()
    expect(page.get_by_label("Notes")).to_have_value("Gate was locked.")


@pytest.mark.long
def test_today_says_how_much_is_on_the_phone_yet(open_page, member, today, line):
    page = open_page(member, keeps=True, address=line.address)
    page.context.route(re.compile("/form/after/"), lambda route: route.fulfill(status=502, body="bad gateway"))
    page.goto("/")
    said = page.locator("#kept-so-far")
    expect(said).to_have_text(re.compile("^On this device for .* no connection: [0-9]+ of [0-9]+ pages"))
    page.context.unroute(re.compile("/form/after/"))
    page.reload()
    wait_until_kept(page)
    expect(said).to_contain_text("are on this device and open without a connection")


def test_after_signing_out_nothing_of_the_firm_is_left_but_what_was_not_sent(with_signal, today):
    page = with_signal
    page.goto(section(today, "after"))
    page.get_by_label("Notes").fill("Sent at once.")
    page.get_by_label("Notes").blur()
    expect(page.locator("#save-state")).to_contain_text("Saved")
    page.evaluate("localStorage.setItem('typed:somebody/place/1', '{}')")
    page.goto(reverse("account_logout"))
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
    comes_to(page, PAGES_OF_PEOPLE, [])
    comes_to(page, "Object.keys(localStorage).sort()", ["clock-ahead-ms", "typed:somebody/place/1"])


def test_without_a_signal_who_wants_to_sign_out_is_told_that_they_are_signed_in_still(phone, today, line):
    phone.goto(section(today, "after"))
    phone.get_by_label("Notes").fill("Gate was locked.")
    phone.get_by_label("Notes").blur()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.get_by_role("link", name="Account").click()
    expect(phone.locator("#left-here")).to_contain_text("Entries: 1")
    phone.get_by_role("button", name="Sign out").click()
    expect(phone.locator("#not-signed-out")).to_be_focused()
    expect(phone.locator("#not-signed-out")).to_contain_text("You are still signed in on this device")
    line.mend()
    phone.get_by_role("button", name="Sign out").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Sign in")
    comes_to(phone, PAGES_OF_PEOPLE, [])


def test_another_person_on_the_phone_sends_nothing_of_the_first(with_signal, colleague, today, client, line):
    page = with_signal
    line.cut()
    page.goto(section(today, "after"))
    page.get_by_label("Notes").fill("Mine.")
    page.get_by_label("Notes").blur()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    client.force_login(colleague.user)
    (session,) = [each for each in page.context.cookies() if each["name"] == "sessionid"]
    page.context.add_cookies([{**session, "value": client.cookies["sessionid"].value}])
    line.mend()
    page.goto("/")
    wait_until_kept(page)
    expect(page.locator("#waiting")).to_be_hidden()
    assert "notes" not in sent(today)


def test_a_reading_that_is_added_without_a_signal_is_kept_shown_again_and_sent_once(phone, today, line):
    phone.goto(section(today, "spray"))
    phone.get_by_role("button", name="Add a reading").click()
    reading = phone.get_by_role("group", name="Reading 1")
    reading.get_by_label("Wind speed", exact=True).fill("5")
    reading.get_by_label("Wind speed", exact=True).blur()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.goto("/")
    phone.goto(section(today, "spray"))
    expect(phone.get_by_label("Wind speed", exact=True)).to_have_value("5")
    phone.get_by_label("Air temperature", exact=True).fill("61")
    phone.get_by_label("Air temperature", exact=True).blur()
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    (reading,) = sent(today)["weather"]["readings"]
    assert datetime.fromisoformat(reading["at"]) <= clock.now()
    assert (reading["wind_speed"]["value"], reading["temperature"]["value"]) == ("5", "61")


@pytest.mark.long
def test_a_reading_saved_just_before_the_signal_went_stands_on_the_kept_pages(with_signal, today, line):
    page = with_signal
    page.goto(section(today, "weather"))
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).fill("5")
    page.get_by_label("Wind speed", exact=True).blur()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    line.cut()
    for slug in ("weather", "spray"):
        page.goto(section(today, slug))
        expect(page.locator("#kept-page")).to_be_visible()
        expect(page.get_by_label("Wind speed", exact=True)).to_have_value("5")
        comes_to(page, "shelf.entries()", [])
    page.get_by_label("Air temperature", exact=True).fill("61")
    page.get_by_label("Air temperature", exact=True).blur()
    line.mend()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    (reading,) = sent(today)["weather"]["readings"]
    assert (reading["wind_speed"]["value"], reading["temperature"]["value"]) == ("5", "61")


@pytest.mark.long
def test_a_step_ticked_just_before_the_signal_went_can_be_unticked_without_it(with_signal, today, line):
    page = with_signal
    step = page.get_by_role("checkbox", name="downspouts diverted")
    page.goto(section(today, "protect"))
    step.check()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    line.cut()
    page.goto(section(today, "protect"))
    expect(step).to_be_checked()
    step.uncheck()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    line.mend()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    assert not sent(today).get("protection")


@pytest.mark.long
def test_what_was_sent_stands_in_every_kept_copy_of_the_treatment_at_last(with_signal, today, line):
    page = with_signal
    page.goto(section(today, "weather"))
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).fill("5")
    page.get_by_label("Wind speed", exact=True).blur()
    expect(page.locator("#save-state")).to_have_text("Saved.")
    wait_until_kept(page)
    comes_to(page, "Object.keys(localStorage).filter((key) => key.startsWith('sent:'))", [])
    line.cut()
    page.goto(section(today, "spray"))
    expect(page.get_by_label("Wind speed", exact=True)).to_have_value("5")


@pytest.mark.long
def test_a_reading_that_was_added_on_one_screen_without_a_signal_stands_on_the_other(phone, today, line):
    phone.goto(section(today, "weather"))
    phone.get_by_role("button", name="Add a reading").click()
    phone.get_by_label("Wind speed", exact=True).fill("5")
    phone.get_by_label("Wind speed", exact=True).blur()
    expect(phone.locator("#save-state")).to_contain_text("Not saved yet")
    phone.goto(section(today, "spray"))
    expect(phone.get_by_label("Wind speed", exact=True)).to_have_value("5")
    phone.get_by_label("Wind speed", exact=True).fill("6")
    phone.get_by_label("Wind speed", exact=True).blur()
    phone.goto(section(today, "weather"))
    expect(phone.get_by_label("Wind speed", exact=True)).to_have_value("6")
    line.mend()
    expect(phone.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    (reading,) = sent(today)["weather"]["readings"]
    assert reading["wind_speed"]["value"] == "6"


@pytest.mark.long
def test_an_item_that_was_added_and_taken_out_without_a_signal_never_was(phone, today, line):
    phone.goto(section(today, "spray"))
    phone.on("dialog", lambda dialog: dialog.accept())
    phone.get_by_role("button", name="Add a reading").click()
    phone.get_by_label("Wind speed", exact=True).fill("5")
    phone.get_by_label("Wind speed", exact=True).blur()
    phone.get_by_role("button", name="Remove Reading 1").click()
    expect(phone.get_by_label("Wind speed", exact=True)).to_have_count(0)
    phone.goto("/")
    expect(phone.locator("#waiting")).to_be_hidden(timeout=PATIENCE_MS)
    line.mend()
    phone.reload()
    assert not (sent(today).get("weather") or {}).get("readings")


@pytest.mark.long
def test_a_pause_and_an_incident_are_added_without_a_signal_and_are_the_same_on_phone_and_record(
    phone, today, line
):
    phone.goto(section(today, "spray"))
    phone.get_by_role("button", name="Add a pause").click()
    pause = phone.get_by_role("group", name="Pause 1")
    pause.get_by_role("button", name="Now: From").click()
    pause.get_by_label("Why").fill("Rain.")
    pause.get_by_label("Why").blur()
    phone.goto(section(today, "after"))
    phone.get_by_role("button", name="Add an incident").click()
    incident = phone.get_by_role("group", name="Incident 1")
    incident.get_by_label("In your words").fill("Hose burst.")
    incident.get_by_label("In your words").blur()
    expect(phone.get_by_label("Nothing went wrong")).to_be_hidden()
    phone.goto(section(today, "spray"))
    expect(phone.get_by_label("Why")).to_have_value("Rain.")
    made = phone.evaluate("id => phoneDocument.of(id).then((known) => known.document)", str(today.pk))
    line.mend()
    phone.goto("/")
    phone.wait_for_function("() => shelf.entries().length === 0", timeout=PATIENCE_MS)
    document = sent(today)
    assert document["timing"]["pauses"] == made["timing"]["pauses"]
    assert document["incidents"] == made["incidents"]
    assert document["timing"]["pauses"][0]["note"] == "Rain."
    assert document["incidents"][0]["description"] == "Hose burst."


@pytest.mark.long
def test_who_types_on_is_left_alone_and_then_one_copy_comes_after_the_other(with_signal, today):
    page, under_way, most, asked = with_signal, set(), [0], []
    page.clock.install()
    page.goto(section(today, "after"))
    wait_until_kept(page)

    def begins(request) -> None:
        if request.method == "GET" and str(today.pk) in request.url and request.resource_type == "fetch":
            under_way.add(request)
            asked.append(request.url)
            most[0] = max(most[0], len(under_way))

    page.on("request", begins)
    for ends in ("requestfinished", "requestfailed"):
        page.on(ends, lambda request: under_way.discard(request))
    for word in ("Gate", "was", "locked"):
        page.evaluate("document.documentElement.dataset.kept = 'before'")
        page.get_by_label("Notes").fill(word)
        page.get_by_label("Notes").blur()
        expect(page.locator("html[data-kept]")).to_have_count(0)
        page.clock.run_for(1000)
    assert asked == []
    wait_until_kept(page)
    assert most == [1]
    assert sorted(asked) == sorted(set(asked))
