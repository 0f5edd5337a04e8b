"""A photo that is taken is never lost: it is kept on the phone until the record names it."""

import re
from dataclasses import replace

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from records.document.edits import Edit
from records.models import Photo, SignedRecord, Treatment
from records.services import photo_store
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock
from tests.browser.phone import comes_to
from tests.browser.test_every_page import misfits, violations
from tests.factories import PASSWORD
from tests.pictures import digest, jpeg, large_jpeg
from tests.records.services.test_photos import signed

pytestmark = pytest.mark.browser

PATIENCE_MS = 30_000
STEP, TITLE = "storm-drains-covered", "storm drains covered"
SMALL, LARGE = jpeg(800, 600), large_jpeg(12_000_000)


@pytest.fixture
def today(firm, member, plan) -> Treatment:
    """A treatment of today with a step ticked, by the clock of this machine: the browser has no other."""
    treatment = plan_treatment(firm, member.user, replace(plan, planned_at=clock.now()))
    step = {"id": "0a4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11", "step": STEP, "at": clock.now().isoformat()}
    edit_draft(treatment, [Edit("tick", f"protection[{step['id']}]", step, 0)], member.user)
    return treatment


@pytest.fixture
def phone(with_signal) -> Page:
    return with_signal


def protect(treatment: Treatment) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": "protect"})


def sign_page(treatment: Treatment) -> str:
    return reverse("sign", kwargs={"uuid": treatment.pk})


def photos(page: Page) -> Locator:
    return page.get_by_role("group", name=TITLE)


def take(page: Page, data: bytes) -> None:
    file = {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": data}
    page.get_by_label(f"Take a photo: {TITLE}").set_input_files(file)


def nothing_waits(page: Page) -> None:
    expect(page.locator('html[data-photos-here="0"]')).to_be_attached(timeout=PATIENCE_MS)
    expect(page.locator("#photos-here")).to_be_hidden()


def evidence(treatment: Treatment) -> list[str]:
    treatment.refresh_from_db()
    return [each["sha256"] for step in treatment.document["protection"] for each in step.get("evidence", [])]


def test_a_photo_is_sent_at_once_where_there_is_a_line(open_page, member, today):
    page = open_page(member)
    page.goto(protect(today))
    take(page, SMALL)
    expect(photos(page).get_by_role("status")).to_contain_text("Sent.", timeout=PATIENCE_MS)
    expect(page.locator("#save-state")).to_be_empty()
    assert evidence(today) == [digest(SMALL)]
    page.reload()
    expect(photos(page).get_by_role("img", name=TITLE)).to_have_js_property("naturalWidth", 320)


@pytest.mark.long
def test_a_large_photo_taken_without_a_line_goes_whole_when_it_is_back(phone, today, line):
    line.cut()
    phone.goto(protect(today))
    take(phone, LARGE)
    row = photos(phone).get_by_role("listitem")
    expect(row).to_contain_text("Kept on this phone. It waits for a connection.", timeout=PATIENCE_MS)
    assert evidence(today) == []
    line.mend()
    expect(row).to_contain_text(re.compile(r"Sending: \d+ %"), timeout=PATIENCE_MS)
    expect(row).to_have_count(0, timeout=PATIENCE_MS)
    assert evidence(today) == [digest(LARGE)]
    photo = Photo.objects.for_firm(today.firm).get()
    assert photo_store.original(photo).read_bytes() == LARGE
    assert abs((clock.now() - photo.taken_at).total_seconds()) < 120


@pytest.mark.long
def test_a_line_that_breaks_in_mid_sending_loses_nothing_of_what_has_come(phone, today, line):
    phone.goto(protect(today))
    line.cut_after(4_000_000)
    take(phone, LARGE)
    row = photos(phone).get_by_role("listitem")
    expect(row).to_contain_text("It waits for a connection", timeout=PATIENCE_MS)
    came_in = Photo.objects.for_firm(today.firm).get().came_in
    assert 1_000_000 < came_in < 8_000_000
    phone.goto("/")
    expect(phone.locator("#photos-here")).to_contain_text(f"{today.number}: {TITLE}")
    line.mend()
    nothing_waits(phone)
    assert evidence(today) == [digest(LARGE)]


@pytest.mark.long
def test_a_step_that_was_ticked_without_a_line_gets_its_photo(phone, today, line):
    line.cut()
    phone.goto(protect(today))
    phone.get_by_label("downspouts diverted").check()
    file = {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": SMALL}
    phone.get_by_label("Take a photo: downspouts diverted").set_input_files(file)
    expect(phone.get_by_role("group", name="downspouts diverted").get_by_role("listitem")).to_have_count(1)
    phone.goto("/")
    line.mend()
    expect(phone.locator("#waiting")).to_be_hidden(timeout=PATIENCE_MS)
    nothing_waits(phone)
    today.refresh_from_db()
    (step,) = [step for step in today.document["protection"] if step["step"] == "downspouts-diverted"]
    assert [each["sha256"] for each in step["evidence"]] == [digest(SMALL)]


def sign_in(page: Page, membership) -> None:
    client = Client()
    client.force_login(membership.user)
    (session,) = [each for each in page.context.cookies() if each["name"] == "sessionid"]
    page.context.add_cookies([{**session, "value": client.cookies["sessionid"].value}])


@pytest.mark.long
def test_another_person_on_the_phone_neither_sees_nor_sends_it(phone, member, colleague, today, line):
    line.cut()
    phone.goto(protect(today))
    take(phone, SMALL)
    expect(photos(phone).get_by_role("listitem")).to_have_count(1)
    sign_in(phone, colleague)
    line.mend()
    expect(photos(phone).get_by_role("listitem")).to_contain_text("signed out", timeout=PATIENCE_MS)
    phone.goto(protect(today))
    nothing_waits(phone)
    expect(photos(phone).get_by_role("listitem")).to_have_count(0)
    assert not Photo.objects.for_firm(today.firm).exists()
    sign_in(phone, member)
    phone.goto("/")
    nothing_waits(phone)
    phone.goto(protect(today))
    expect(photos(phone).get_by_role("img")).to_have_count(1)
    assert evidence(today) == [digest(SMALL)]


def test_a_photo_that_the_server_refuses_says_why_and_can_be_left_out(open_page, member, today):
    page = open_page(member)
    page.goto(protect(today))
    take(page, b"\xff\xd8\xff and no more")
    row = photos(page).get_by_role("listitem")
    expect(row).to_contain_text("This is no picture that can be read", timeout=PATIENCE_MS)
    row.get_by_role("button", name="Leave this photo out").click()
    expect(row).to_have_count(0)


@pytest.mark.long
def test_a_picture_of_another_kind_is_refused_at_once_beside_its_step_without_a_signal(phone, today):
    phone.goto(protect(today))
    take(phone, b"\x00\x00\x00\x18ftypheic" + bytes(64))
    words = "This picture is neither a JPEG nor a PNG"
    expect(phone.locator(f'.photos[data-step="{STEP}"] > .keep')).to_contain_text(words)
    comes_to(phone, "photoShelf.waiting()", [])


def test_nothing_is_signed_while_a_photo_is_only_on_the_device(open_page, member, today):
    page = open_page(member)
    page.context.route(re.compile("/photos/$"), lambda route: route.abort())
    page.goto(protect(today))
    take(page, SMALL)
    expect(photos(page).get_by_role("listitem")).to_contain_text("waits", timeout=PATIENCE_MS)
    page.goto(sign_page(today))
    here = page.locator("#photos-here")
    expect(here).to_contain_text("cannot be signed without them")
    for box in page.get_by_label("Your reason").all():
        box.fill("As it was.")
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(here).to_be_focused()
    assert not SignedRecord.objects.for_firm(today.firm).exists()
    here.get_by_role("button", name="Leave this photo out").click()
    expect(here).to_be_hidden()
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()


@pytest.mark.long
def test_a_photo_that_was_signed_without_it_says_so(open_page, member, today):
    page = open_page(member)
    page.context.route(re.compile("/photos/$"), lambda route: route.abort())
    page.goto(protect(today))
    take(page, SMALL)
    expect(photos(page).get_by_role("listitem")).to_contain_text("waits", timeout=PATIENCE_MS)
    page.context.unroute(re.compile("/photos/$"))
    signed(today, member)
    page.goto(reverse("treatment", kwargs={"uuid": today.pk}))
    here = page.locator("#photos-here")
    expect(here).to_contain_text("not in the signed record", timeout=PATIENCE_MS)
    expect(here).to_contain_text("The record was signed without it.", timeout=PATIENCE_MS)


@pytest.mark.long
def test_who_signs_sees_the_photos_and_so_does_who_reads_the_record(open_page, member, today):
    page = open_page(member)
    page.goto(protect(today))
    take(page, SMALL)
    expect(photos(page).get_by_role("status")).to_contain_text("Sent.", timeout=PATIENCE_MS)
    for address in (sign_page(today), reverse("treatment", kwargs={"uuid": today.pk})):
        page.goto(address)
        photo = page.get_by_role("img", name=f"Photo: {TITLE} 1")
        photo.scroll_into_view_if_needed()
        expect(photo).to_have_js_property("naturalWidth", 320)
        assert violations(page) + misfits(page, "en") == []
        if address == sign_page(today):
            signed(today, member)


def test_without_scripts_a_photo_goes_by_the_forms_button(open_page, member, today):
    page = open_page(member, scripts=False)
    page.goto(protect(today))
    take(page, SMALL)
    page.get_by_role("button", name="Send this photo").click()
    expect(photos(page).get_by_role("img", name=TITLE)).to_have_count(1)
    assert evidence(today) == [digest(SMALL)]
    page.get_by_role("button", name=f"Remove Photo: {TITLE}").click()
    expect(photos(page).get_by_role("img")).to_have_count(0)
    assert evidence(today) == []


@pytest.mark.parametrize(("width", "language"), [(390, "en"), pytest.param(1280, "es", marks=pytest.mark.long)])
@pytest.mark.long
def test_pages_with_photos_are_accessible_and_fit(open_page, colleague, today, width, language):
    today.firm.reads_pictures = True
    today.firm.save()
    page = open_page(colleague, width=width, language=language)
    page.goto(protect(today))
    page.locator(f'[name="photo:{STEP}"]').set_input_files(
        {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": SMALL}
    )
    expect(page.locator(".photos > .keep").first).to_contain_text(
        re.compile("Sent|Enviada"), timeout=PATIENCE_MS
    )
    page.context.route(re.compile("/photos/$"), lambda route: route.abort())
    page.reload()
    page.locator(f'[name="photo:{STEP}"]').set_input_files(
        {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": jpeg(colour="red")}
    )
    expect(page.locator("canvas")).to_have_count(1)
    assert violations(page) + misfits(page, language) == []
    page.goto("/")
    expect(page.locator("#photos-here")).to_be_visible()
    assert violations(page) + misfits(page, language) == []


@pytest.mark.parametrize("failing", ["server", "line"])
@pytest.mark.long
def test_a_photo_that_the_server_fails_on_does_not_hold_up_the_others(open_page, member, today, failing):
    page = open_page(member)
    fails = digest(SMALL)

    def answer(route):
        said = route.request.post_data or ""
        if fails not in said and fails not in route.request.url:
            route.continue_()
        elif failing == "server":
            route.fulfill(status=500)
        else:
            route.abort()

    page.context.route(re.compile("/photos/"), answer)
    page.goto(protect(today))
    take(page, SMALL)
    words = "The server could not take it just now" if failing == "server" else "waits for a connection"
    expect(photos(page).get_by_role("listitem")).to_contain_text(words, timeout=PATIENCE_MS)
    take(page, jpeg(colour="red"))
    expect(photos(page).get_by_role("status")).to_contain_text("Sent.", timeout=PATIENCE_MS)
    assert evidence(today) == [digest(jpeg(colour="red"))]
    page.context.unroute(re.compile("/photos/"))
    nothing_waits(page)
    assert evidence(today) == [digest(jpeg(colour="red")), digest(SMALL)]


@pytest.mark.long
def test_a_photo_that_was_given_up_while_it_is_sent_begins_anew(phone, today, line):
    phone.goto(protect(today))
    line.cut_after(4_000_000)
    take(phone, LARGE)
    row = photos(phone).get_by_role("listitem")
    expect(row).to_contain_text("It waits for a connection", timeout=PATIENCE_MS)
    first = []

    def given_up(route):
        if route.request.method == "PATCH" and not first:
            first.append(route.request.url)
            Photo.objects.for_firm(today.firm).delete()
            connection.close()  # the browser's callbacks have one of their own
        route.continue_()

    phone.context.route(re.compile("/photos/"), given_up)
    line.mend()
    nothing_waits(phone)
    assert first[0].partition("offset=")[2] != "0"
    assert evidence(today) == [digest(LARGE)]
