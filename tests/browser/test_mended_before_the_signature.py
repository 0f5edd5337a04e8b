"""What can't be read on a phone, or the service would refuse as a whole, is said there, and is not signed."""

import json
from datetime import date, timedelta

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.models import Treatment
from records.services.drafts import edit_draft
from tests.browser.phone import keep_all
from tests.compliance.patched import load, patched

pytestmark = pytest.mark.browser

EXAMPLE = load("documents/example.json")
BROKEN = {
    "a finish before its start": {"timing.finished_at": "2026-09-14T00:10:00-07:00"},
    "a finish before its start, by their offsets": {"timing.finished_at": "2026-09-14T09:15:00-06:00"},
    "a pause that ends before it begins": {
        "timing.pauses": [
            {"started_at": "2026-09-14T09:40:00-07:00", "finished_at": "2026-09-14T09:25:00-07:00"}
        ]
    },
    "a surface that is there no more": {"mixes[0].surfaces[0].surface": "Shed"},
    "a rig that is there no more": {"mixes[0].equipment": "Rig 77"},
    "two surfaces of one name": {"surfaces[1]": {"name": "Main roof, north slope", "kind": "roof"}},
    "nothing": {},
}


@pytest.fixture
def phone(with_key, line) -> Page:
    line.cut()
    return with_key


def address(name: str, treatment: Treatment, **more: str) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk, **more})


def enter(page: Page, question: str, day: date, time: str) -> None:
    group = page.get_by_role("group", name=question)
    group.get_by_label("Day").fill(day.isoformat())
    group.get_by_label("Time").fill(time)
    group.get_by_label("Time").blur()


def test_a_finish_before_the_start_is_said_beside_it_and_not_signed_until_it_is_mended(phone, today):
    said = "The finish is before the start."
    phone.goto(address("section", today, section="spray"))
    enter(phone, "Spraying started", today.day, "23:50")
    enter(phone, "Spraying finished", today.day, "00:10")
    remark = phone.locator(".remark.told-here", has_text=said)
    expect(remark.locator("xpath=ancestor::*[@data-field]")).to_contain_text("Spraying finished")
    phone.goto(address("sign", today))
    expect(phone.locator("#seal [data-part=mend] li")).to_contain_text(said)
    expect(phone.get_by_label("The PIN of this device")).to_be_hidden()
    phone.locator("#seal [data-part=mend] a").click()
    enter(phone, "Spraying finished", today.day + timedelta(days=1), "00:10")
    expect(remark).to_have_count(0)
    phone.goto(address("sign", today))
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()


@pytest.mark.long
def test_what_can_not_be_read_is_named_before_the_signature_until_it_is_entered_anew(phone, today):
    phone.goto(address("section", today, section="spray"))
    applied = phone.get_by_label("Finished mix applied", exact=True)
    applied.fill("1,234")
    applied.blur()
    phone.goto(address("sign", today))
    named = phone.locator("#seal [data-part=mend] li")
    expect(named).to_contain_text("“1,234 gal” This number cannot be read on this device")
    named.get_by_role("link").click()
    applied.fill("12")
    applied.blur()
    phone.goto(address("sign", today))
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()


@pytest.mark.long
def test_what_the_service_could_not_read_is_mended_without_a_signal(with_key, today, member, line):
    path = f"mixes[{today.document['mixes'][0]['id']}].applied"
    edit_draft(today, [Edit("unread", path, "a bucket", today.revision)], member.user)
    keep_all(with_key)
    line.cut()
    with_key.goto(address("sign", today))
    expect(with_key.locator("#seal [data-part=mend] li")).to_contain_text("that the service could not read")
    with_key.goto(address("section", today, section="spray"))
    with_key.get_by_label("Finished mix applied", exact=True).fill("12")
    with_key.get_by_label("Finished mix applied", exact=True).blur()
    with_key.goto(address("sign", today))
    expect(with_key.get_by_label("The PIN of this device")).to_be_visible()


def test_the_phone_finds_the_faults_between_members_that_the_service_finds(phone, today):
    phone.goto(address("sign", today))
    expect(phone.get_by_label("The PIN of this device")).to_be_visible()
    made = {name: patched(EXAMPLE, change) for name, change in BROKEN.items()}
    script = "all => all.map((made) => mending.faultsOf(made).map(({ path }) => path))"
    found = dict(zip(made, phone.evaluate(script, json.loads(json.dumps([*made.values()]))), strict=True))
    assert found == {name: faults_of(document) for name, document in made.items()}
    assert sum(map(len, found.values())) == len(BROKEN) - 1


def faults_of(document: dict) -> list[str]:
    try:
        read(document)
    except DocumentFaults as error:
        return [fault.path for fault in error.faults]
    return []
