"""A record is filled in and signed without a signal; when it is back, the service has it whole, and once."""

import json
import re
from contextlib import suppress
from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from django.urls import reverse
from playwright.sync_api import Error, Page, expect

from records.document.edits import Edit
from records.models import Seal, SignedRecord, Treatment
from records.record_files import record_file
from records.selectors import document_of
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock
from tests.browser.phone import PIN, comes_to, keep_all
from tests.factories import PASSWORD

pytestmark = [pytest.mark.browser, pytest.mark.both]

PATIENCE_MS = 20_000
FORGET_PAGES = """async () => {
  for (const name of await caches.keys()) if (name.startsWith("pages-")) await caches.delete(name);
}"""
READING = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"


@pytest.fixture
def phone(with_key, line) -> Page:
    line.cut()
    return with_key


def address(name: str, treatment: Treatment, **more: str) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk, **more})


def fill_in(page: Page, treatment: Treatment) -> None:
    """Ticks, numbers, words, moments and notes, on several screens."""
    page.goto(address("section", treatment, section="protect"))
    page.get_by_label("downspouts diverted").check()
    page.goto(address("section", treatment, section="spray"))
    page.get_by_role("button", name="Now: Spraying started").click()
    page.goto(address("section", treatment, section="weather"))
    page.get_by_role("button", name="Add a reading").click()
    page.get_by_label("Wind speed", exact=True).last.fill("4,5")
    page.get_by_label("Air temperature", exact=True).last.fill("61")
    page.get_by_role("radio", name="No", exact=True).last.check()
    page.goto(address("section", treatment, section="spray"))
    page.get_by_label("Finished mix applied", exact=True).fill("14")
    page.goto(address("section", treatment, section="after"))
    page.get_by_label("Notes").fill("Dog kept in.\n  Gate: «la verja» ✓")
    page.get_by_label("Notes").blur()
    page.get_by_label("Nothing went wrong").check()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")


def sign(page: Page, treatment: Treatment, pin: str = PIN) -> None:
    page.goto(address("sign", treatment))
    expect(page.get_by_label("The PIN of this device")).to_be_visible()
    expect(page.get_by_label("The PIN of this device")).to_be_visible()
    for reason in page.locator("#seal .reasons textarea").all():
        reason.fill("As it was.")
    sign_here(page, pin)


def sign_here(page: Page, pin: str = PIN) -> None:
    page.get_by_label("The PIN of this device").fill(pin)
    page.get_by_role("button", name="Sign this record on this device").click()
    if pin == PIN:
        expect(page.get_by_text("Signed on this device. It is sent")).to_be_visible()


def wait_until_sent(page: Page) -> None:
    for _ in range(PATIENCE_MS // 100):
        page.wait_for_timeout(100)
        with suppress(Error):  # the page loads itself again once something was sent
            if not page.evaluate("window.shelf?.entries().length ?? 1"):
                return
    raise AssertionError("something is still on the phone alone")


def the_record(treatment: Treatment) -> dict:
    (record,) = SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment)
    return document_of(record)


@pytest.mark.long
def test_before_the_signature_it_is_said_which_days_limits_there_are(with_key, today, line, firm, member, plan):
    planned = replace(plan, planned_at=clock.now() - timedelta(days=1))
    yesterday = plan_treatment(firm, member.user, planned)
    keep_all(with_key)
    line.cut()
    with_key.goto(address("sign", yesterday))
    expect(with_key.get_by_label("The PIN of this device")).to_be_visible()
    expect(with_key.locator("#seal .limits-known")).to_be_hidden()
    with_key.goto(address("section", yesterday, section="spray"))
    with_key.get_by_role("button", name="Now: Spraying started").click()
    with_key.goto(address("sign", yesterday))
    expect(with_key.locator("#seal .limits-known")).to_contain_text("On another day the law may differ")


@pytest.mark.long
def test_a_reason_for_a_limit_that_was_broken_before_is_asked_once(with_key, today, line, member):
    wind = {"value": "12", "unit": "mph"}
    start = (clock.now() - timedelta(minutes=1)).isoformat(timespec="seconds")
    reading = {"id": READING, "at": start, "wind_speed": wind}
    edits = {"timing.started_at": start, f"weather.readings[{READING}]": reading}
    edit_draft(today, [Edit(path, path, value, today.revision) for path, value in edits.items()], member.user)
    keep_all(with_key)
    line.cut()
    with_key.goto(address("sign", today))
    expect(with_key.get_by_label("The PIN of this device")).to_be_visible()
    expect(with_key.locator("#seal .field", has_text="Wind was 12 mph")).to_have_count(1)


def test_what_the_phone_makes_of_the_entries_is_what_the_service_makes_of_them(phone, today, line):
    fill_in(phone, today)
    phone.goto(address("sign", today))
    made = phone.evaluate("id => phoneDocument.of(id)", str(today.pk))
    assert made["unreadable"] == []
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    own = {
        name: made["document"][name]
        for name in today.document
        if name not in ("firm", "customer", "site", "record")
    }
    assert own == {name: today.document[name] for name in own}


def test_a_record_made_and_signed_without_a_signal_is_received_once_and_whole(phone, today, line):
    fill_in(phone, today)
    sign(phone, today)
    expect(phone.get_by_text("Signed on this device. It is sent")).to_be_visible()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("waiting to be sent")
    assert not SignedRecord.objects.for_firm(today.firm).exists()
    line.mend()
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    document = the_record(today)
    assert document["notes"] == "Dog kept in.\n  Gate: «la verja» ✓"
    assert document["weather"]["readings"][0]["wind_speed"] == {"value": "4.5", "unit": "mph"}
    assert document["protection"][0]["step"] == "downspouts-diverted"
    assert document["incidents"] == []
    seal = Seal.objects.for_firm(today.firm).get()
    assert json.loads(bytes(seal.document)) == document
    comes_to(phone, "sealedHere.all()", [])


@pytest.mark.long
def test_what_a_signature_on_this_device_is_over_is_not_left_out_by_a_touch(phone, today):
    fill_in(phone, today)
    phone.goto(address("sign", today))
    leaving = phone.locator("#waiting").get_by_role("button", name="Leave it out")
    expect(leaving.first).to_be_visible()
    for reason in phone.locator("#seal .reasons textarea").all():
        reason.fill("As it was.")
    sign_here(phone)
    for place in (phone.url, "/"):
        phone.goto(place)
        expect(phone.locator("#waiting li").first).to_be_visible()
        expect(leaving).to_have_count(0)
    phone.goto(address("sign", today))
    phone.get_by_role("button", name="Take the signature back").click()
    expect(leaving.first).to_be_visible()


@pytest.mark.long
def test_who_has_signed_sees_and_hears_that_it_is_done_with_the_way_back_below(phone, today):
    fill_in(phone, today)
    sign(phone, today)
    said = phone.get_by_text("Signed on this device. It is sent").locator("..")
    expect(said).to_be_focused()
    expect(said).to_be_in_viewport()
    back = phone.get_by_role("button", name="Take the signature back")
    assert back.bounding_box()["y"] > said.bounding_box()["y"]


@pytest.mark.long
def test_the_answers_stand_before_the_signature_with_what_was_entered_since(phone, today):
    fill_in(phone, today)
    phone.goto(address("sign", today))
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()
    answers = phone.locator("#answers-given")
    for title, asks, text in (
        ("After", "Notes", "Dog kept in."),
        ("Spray", "Finished mix applied", "14"),
        ("Weather", "Reading 1: Wind speed", "4,5"),
        ("Protect", "Against runoff", "downspouts diverted"),
        ("Arrive", "Surfaces", ""),
    ):
        section = answers.locator("details", has=phone.locator("summary", has_text=title))
        section.locator("summary").click()
        row = section.locator("dl > div").filter(has_text=asks)
        if text:
            expect(row.first).to_contain_text(text)
            expect(row.first).to_contain_text("entered since")
        else:
            expect(section).not_to_contain_text("entered since")


@pytest.mark.long
def test_stood_down_first_and_treated_after_all_leaves_no_reason(phone, today, line):
    phone.goto(address("section", today, section="stand-down"))
    phone.get_by_role("button", name="wind", exact=True).click()
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()
    phone.goto(address("section", today, section="after"))
    expect(phone.get_by_role("radio", name="stood down", exact=True)).to_be_checked()
    expect(phone.get_by_role("radio", name="wind", exact=True)).to_be_checked()
    phone.get_by_role("radio", name="treated", exact=True).check()
    expect(phone.get_by_role("radio", name="wind", exact=True)).not_to_be_checked()
    phone.goto(address("sign", today))
    made = phone.evaluate("id => phoneDocument.of(id)", str(today.pk))["document"]["record"]
    assert (made["result"], made.get("why")) == ("treated", None)
    line.mend()
    phone.goto("/")
    wait_until_sent(phone)
    today.refresh_from_db()
    record = today.document["record"]
    assert (record["result"], record.get("why")) == ("treated", None)


@pytest.mark.long
def test_a_day_is_stood_down_and_signed_without_a_signal_with_its_wind(phone, today, line):
    phone.goto(address("section", today, section="stand-down"))
    phone.get_by_label("Wind speed", exact=True).fill("18")
    phone.get_by_label("Wind speed", exact=True).blur()
    phone.get_by_text("When, direction, gusts").click()
    when = phone.get_by_role("group", name="When")
    expect(when.get_by_label("Time")).not_to_have_value("")
    phone.get_by_role("button", name="wind", exact=True).click()
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()
    for reason in phone.locator("#seal .reasons textarea").all():
        reason.fill("It was too windy.")
    sign_here(phone)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    document = the_record(today)
    assert (document["record"]["result"], document["record"]["why"]) == ("stood-down", "wind")
    (reading,) = document["weather"]["readings"]
    assert reading["wind_speed"] == {"value": "18", "unit": "mph"}


@pytest.mark.long
def test_a_reason_for_what_the_phone_does_not_judge_by_itself_stands_in_the_record(phone, today, line):
    fill_in(phone, today)
    phone.goto(address("sign", today))
    reasons = phone.locator("#seal textarea")
    expect(phone.locator("#seal .reasons-before textarea").first).to_be_visible()
    for each in reasons.all():
        each.fill("The licence is being renewed.")
    sign_here(phone)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    record = Seal.objects.for_firm(today.firm).get().signed_record
    given = {answer["reason"] for answer in record_file(record)["record"]["answers"]}
    assert "The licence is being renewed." in given


@pytest.mark.long
def test_no_reason_is_asked_for_what_was_not_filled_in_and_is_by_now(phone, today):
    fill_in(phone, today)
    phone.goto(address("sign", today))
    tasks = phone.locator("#seal .reasons-before .field", has_text="Not filled in: Tasks")
    expect(tasks).to_have_count(1)
    phone.goto(address("section", today, section="arrive"))
    phone.get_by_label("sprayed").check()
    phone.goto(address("sign", today))
    expect(phone.locator("#seal .reasons-before textarea").first).to_be_visible()
    expect(tasks).to_have_count(0)


@pytest.mark.long
def test_a_phone_that_is_killed_after_each_screen_still_has_it_all(phone, today, line):
    fill_in(phone, today)
    context = phone.context
    phone.close()
    again = context.new_page()
    sign(again, today)
    expect(again.get_by_text("Signed on this device. It is sent")).to_be_visible()
    again.close()
    line.mend()
    last = context.new_page()
    last.goto("/")
    expect(last.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert the_record(today)["mixes"][0]["applied"] == {"value": "14", "unit": "gal"}


@pytest.mark.parametrize("fails_at", ["form/", "seal/"])
@pytest.mark.long
def test_a_server_that_fails_at_first_gets_it_at_last_and_once(phone, today, line, fails_at):
    fill_in(phone, today)
    sign(phone, today)
    failures = []

    def fail_twice(route):
        failures.append(route.request.url)
        if len(failures) == 1:
            route.fulfill(status=502, body="bad gateway")
        elif len(failures) == 2:
            route.fetch()
            route.abort()
        else:
            route.continue_()

    phone.context.route(
        re.compile(rf"/{today.pk}/{fails_at}.*"),
        lambda route: fail_twice(route) if route.request.method == "POST" else route.continue_(),
    )
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=2 * PATIENCE_MS)
    assert the_record(today)["mixes"][0]["applied"] == {"value": "14", "unit": "gal"}


@pytest.mark.long
def test_what_a_colleague_changed_meanwhile_is_asked_about_and_both_entries_stay(phone, today, colleague, line):
    fill_in(phone, today)
    sign(phone, today)
    today.refresh_from_db()
    edit_draft(today, [Edit("theirs", "timing.pauses[0]", {"note": "Rain."}, today.revision)], colleague.user)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("not taken as signed", timeout=PATIENCE_MS)
    today.refresh_from_db()
    document = today.document
    assert document["timing"]["pauses"] == [{"note": "Rain."}]
    assert document["notes"].startswith("Dog kept in.")
    assert Seal.objects.for_firm(today.firm).get().signed_record is None
    phone.goto(address("treatment", today))
    expect(phone.locator("#sealed")).to_be_hidden()
    expect(phone.locator("main")).to_contain_text("It was not taken as signed:")


@pytest.mark.long
def test_a_signature_that_waits_for_an_answer_is_taken_once_that_is_given(phone, today, colleague, line):
    fill_in(phone, today)
    sign(phone, today)
    today.refresh_from_db()
    edit_draft(today, [Edit("theirs", "notes", "All quiet.", today.revision)], colleague.user)
    line.mend()
    phone.goto("/")
    expect(phone.locator("#sealed")).to_contain_text("not taken as signed", timeout=PATIENCE_MS)
    phone.goto(address("section", today, section="after"))
    phone.get_by_role("button", name=re.compile("Mine: Dog kept in")).click()
    expect(phone.get_by_role("heading", name="Signed and locked")).to_be_visible()
    expect(phone.get_by_text("It is signed with that signature and locked.")).to_be_visible()
    seal = Seal.objects.for_firm(today.firm).get()
    assert json.loads(bytes(seal.document)) == the_record(today)
    assert seal.later_fit.signed_record.document_digest == seal.digest


@pytest.mark.long
def test_signed_out_the_record_waits_for_whoever_signed_it(phone, today, line, client, member):
    fill_in(phone, today)
    sign(phone, today)
    phone.context.clear_cookies()
    line.mend()
    phone.goto("/")
    expect(phone.get_by_role("button", name="Sign in")).to_be_visible()
    phone.get_by_label("Email").fill(member.user.email)
    phone.get_by_label("Password").fill(PASSWORD)
    phone.get_by_role("button", name="Sign in").click()
    expect(phone.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert the_record(today)["notes"].startswith("Dog kept in.")


@pytest.mark.long
def test_five_wrong_pins_erase_the_key_and_nothing_that_was_typed(phone, today):
    fill_in(phone, today)
    for left in (4, 3, 2, 1):
        sign(phone, today, "wrong pin")
        expect(phone.locator("#seal .sentence")).to_contain_text(f"Tries left: {left}")
    sign(phone, today, "wrong pin")
    expect(phone.locator("#seal .sentence")).to_contain_text("gone from this device")
    phone.goto("/")
    expect(phone.locator("#waiting li")).not_to_have_count(0)


@pytest.mark.long
def test_a_signature_that_was_taken_back_leaves_the_form_open(phone, today):
    fill_in(phone, today)
    sign(phone, today)
    phone.goto(address("section", today, section="after"))
    expect(phone.get_by_label("Notes")).to_be_disabled()
    expect(phone.locator("#sealed-note")).to_be_visible()
    phone.goto(address("sign", today))
    phone.get_by_role("button", name="Take the signature back").click()
    phone.goto(address("section", today, section="after"))
    expect(phone.get_by_label("Notes")).to_be_enabled()
    expect(phone.get_by_label("Notes")).to_have_value(re.compile("Dog kept in"))


@pytest.mark.long
def test_a_clock_three_hours_ahead_is_said_and_times_are_noted_by_the_right_one(with_key, today, line):
    page = with_key
    page.clock.install(time=clock.now() + timedelta(hours=3))
    page.evaluate(FORGET_PAGES)
    keep_all(page)
    page.evaluate("delete document.documentElement.dataset.kept")
    line.cut()
    page.reload()
    expect(page.locator("#clock-off")).to_contain_text("180 minutes ahead")
    here = page.evaluate("Intl.DateTimeFormat().resolvedOptions().timeZone")
    lately = [clock.now().astimezone(ZoneInfo(here)) - timedelta(minutes=ago) for ago in range(5)]
    kept_at = re.compile("|".join(f" {at:%I:%M}.{at:%p}".replace(" 0", " ") for at in lately))
    expect(page.locator("#kept-page")).to_contain_text(kept_at)
    fill_in(page, today)
    sign(page, today)
    line.mend()
    page.goto("/")
    page.clock.run_for(10_000)
    expect(page.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    seal = Seal.objects.for_firm(today.firm).get()
    assert abs(seal.claimed_at - seal.received_at) < timedelta(minutes=5)
    assert timedelta(hours=2, minutes=55) < seal.device_at - seal.received_at < timedelta(hours=3, minutes=5)










@pytest.mark.long
def test_a_reason_that_is_missing_is_named_and_the_eye_goes_to_it(phone, today):
    phone.goto(address("sign", today))
    reasons = phone.locator("#seal .reasons textarea")
    expect(reasons.first).to_be_visible()
    about = phone.locator("#seal .reasons label").first.text_content()
    phone.get_by_role("button", name="Sign this record on this device").click()
    expect(reasons.first).to_be_focused()
    expect(phone.get_by_text(f"Give a reason for this first: {about}")).to_be_visible()
