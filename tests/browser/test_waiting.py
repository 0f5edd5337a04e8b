"""What is still only on the device is neither signed over nor dropped, whichever page or tab comes next."""

import re

import pytest
from playwright.sync_api import Page, Route, expect

from compliance.services.signing import prepare, sign_treatment
from records.document.edits import Edit
from records.models import SignedRecord, Treatment
from records.services.drafts import edit_draft
from records.services.signing import Signer
from tests.factories import PASSWORD

pytestmark = pytest.mark.browser

SPILL = "SPILL 3 pints at curb"
SAVING = re.compile(r"/form/\w+/$")


@pytest.fixture
def after(done) -> str:
    return f"/treatments/{done.pk}/form/after/"


def document_of(treatment: Treatment) -> dict:
    treatment.refresh_from_db()
    return treatment.document


def no_connection(page: Page) -> None:
    page.context.route(SAVING, lambda route: route.abort() if is_saving(route) else route.continue_())


def is_saving(route) -> bool:
    return route.request.method == "POST"


def type_the_spill(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_label("Notes").fill(SPILL)
    page.get_by_label("Notes").blur()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")


def test_the_sign_page_sends_what_is_only_on_the_device(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    page.context.unroute(SAVING)
    later = page.context.new_page()
    page.close()
    later.goto(f"/treatments/{done.pk}/sign/")
    expect(later.locator("main")).to_contain_text(SPILL)
    expect(later.locator("#waiting")).to_be_hidden()
    assert document_of(done)["notes"] == SPILL


def test_the_task_list_sends_it_too(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    page.goto(f"/treatments/{done.pk}/")
    expect(page.locator("#waiting")).to_contain_text("No connection")
    page.context.unroute(SAVING)
    with page.expect_response(SAVING):
        page.reload()
    expect(page.locator("#waiting")).to_be_hidden()
    assert document_of(done)["notes"] == SPILL


def test_nothing_is_signed_while_something_is_only_on_the_device(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    page.goto(f"/treatments/{done.pk}/sign/")
    for box in page.get_by_label("Your reason").all():
        box.fill("As it was.")
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    waiting = page.locator("#waiting")
    expect(waiting).to_contain_text(f"After: Notes “{SPILL}”")
    expect(waiting).to_be_focused()
    assert not SignedRecord.objects.for_firm(done.firm).exists()
    waiting.get_by_role("button", name="Leave it out").click()
    expect(waiting).to_be_hidden()
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.get_by_role("heading", name="Signed and locked")).to_be_visible()


def test_a_signature_that_is_pressed_while_something_is_sent_follows_it(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    page.context.unroute(SAVING)
    held: list[Route] = []
    page.context.route(SAVING, lambda route: held.append(route) if is_saving(route) else route.continue_())
    page.goto(f"/treatments/{done.pk}/sign/")
    for box in page.get_by_label("Your reason").all():
        box.fill("As it was.")
    page.locator("#password").fill(PASSWORD)
    page.get_by_role("button", name="Sign and lock this record").click()
    expect(page.locator("#waiting")).to_be_focused()
    page.context.route(SAVING, lambda route: route.continue_())
    for route in held:
        route.continue_()
    expect(page.locator("main")).to_contain_text("The draft was changed meanwhile. Look through it again")
    expect(page.locator("main")).to_contain_text(SPILL)
    assert not SignedRecord.objects.for_firm(done.firm).exists()


@pytest.mark.long
def test_what_a_touch_left_out_comes_back_as_typed_until_the_page_is_left(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    page.goto(f"/treatments/{done.pk}/")
    waiting, left_out = page.locator("#waiting"), page.locator("#left-out")
    waiting.get_by_role("button", name="Leave it out: After: Notes").click()
    expect(waiting).to_be_hidden()
    expect(left_out).to_contain_text(f"After: Notes “{SPILL}”")
    undo = left_out.get_by_role("button", name="Undo")
    expect(undo).to_be_focused()
    undo.click()
    expect(left_out).to_be_hidden()
    expect(waiting).to_contain_text(SPILL)
    page.context.unroute(SAVING)
    with page.expect_response(SAVING):
        page.reload()
    expect(waiting).to_be_hidden()
    assert document_of(done)["notes"] == SPILL


@pytest.mark.long
def test_a_value_changed_twice_keeps_the_record_from_being_signed(open_page, member, colleague, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    edit_draft(done, [Edit("other", "notes", "All quiet", done.revision)], colleague.user)
    page.context.unroute(SAVING)
    page.goto(f"/treatments/{done.pk}/sign/")
    expect(page.locator("#waiting")).to_contain_text("It was changed twice")
    page.locator("#waiting").get_by_role("link").click()
    page.get_by_role("button", name=f"Mine: {SPILL}").click()
    expect(page.locator(".conflict")).to_have_count(0)
    page.goto(f"/treatments/{done.pk}/sign/")
    expect(page.locator("#waiting")).to_be_hidden()
    expect(page.locator("main")).to_contain_text(SPILL)


@pytest.mark.long
def test_what_was_signed_without_it_says_so(open_page, member, done, after):
    page = open_page(member)
    no_connection(page)
    type_the_spill(page, after)
    findings = prepare(done, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, answers)
    page.context.unroute(SAVING)
    page.goto(f"/treatments/{done.pk}/sign/")
    expect(page.locator("#waiting")).to_contain_text(SPILL)
    page.goto("/")
    expect(page.locator("#waiting")).to_contain_text(f"“{SPILL}” The record was signed without it.")


def test_an_unanswered_question_outlives_what_another_tab_saves(open_page, member, colleague, done, after):
    first = open_page(member)
    first.goto(after)
    second = first.context.new_page()
    second.goto(after)
    edit_draft(done, [Edit("other", "notes", "All quiet", done.revision)], colleague.user)
    first.get_by_label("Notes").fill(SPILL)
    first.get_by_label("Notes").blur()
    expect(first.locator(".conflict")).to_contain_text(f"Mine: {SPILL}")
    second.get_by_label("Amount left over", exact=True).fill("13")
    second.get_by_label("Amount left over", exact=True).blur()
    expect(second.locator("#save-state")).to_have_text("Saved.")
    first.close()
    second.reload()
    expect(second.locator(".conflict")).to_contain_text(f"Mine: {SPILL}")


@pytest.mark.long
def test_two_values_typed_in_two_tabs_are_both_kept(open_page, member, done, after):
    first = open_page(member)
    second = first.context.new_page()
    no_connection(first)
    second.goto(after)
    type_the_spill(first, after)
    second.get_by_label("Notes").fill("All quiet")
    second.get_by_label("Notes").blur()
    expect(second.locator("#save-state")).to_contain_text("Not saved yet")
    first.close()
    second.context.unroute(SAVING)
    second.reload()
    expect(second.locator(".conflict")).to_contain_text("Mine: All quiet")
    expect(second.locator(".conflict")).to_contain_text(f"The other: {SPILL}")


@pytest.mark.long
def test_several_answers_to_one_question_stand_there_with_commas(open_page, member, done):
    page = open_page(member)
    no_connection(page)
    page.goto(f"/treatments/{done.pk}/form/arrive/")
    page.get_by_label("mixed", exact=True).check()
    page.get_by_label("sprayed", exact=True).check()
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
    page.goto("/")
    expect(page.locator("#waiting")).to_contain_text("“mixed, sprayed”")
