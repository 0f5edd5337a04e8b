"""The server fails at each call of the phone, then does not answer, then its answer is lost, then it works."""

import re
from collections import Counter
from functools import partial

import pytest
from playwright.sync_api import Page, Route, expect

from records.models import Photo, TreatmentEdit
from tests.browser.phone import keep_all, set_up_for_signing, wait_until_kept
from tests.browser.test_signing_without_signal import address, fill_in, sign, the_record
from tests.pictures import digest, jpeg

pytestmark = [pytest.mark.browser, pytest.mark.long]

PATIENCE_MS = 40_000
PICTURE, TITLE = jpeg(800, 600), "downspouts diverted"
IN_A_HURRY = """(() => {
    const [later, patience] = [window.setTimeout, AbortSignal.timeout];
    const { set } = Object.getOwnPropertyDescriptor(XMLHttpRequest.prototype, "timeout");
    window.setTimeout = (act, after, ...more) => later(act, after / 20, ...more);
    AbortSignal.timeout = (after) => patience.call(AbortSignal, after / 20);
    Object.defineProperty(XMLHttpRequest.prototype, "timeout", { set(after) { set.call(this, after / 20); } });
})();"""
"""A phone on which waiting takes a twentieth of the time."""
CALLS = {
    "entries": re.compile(r"/form/\w+/$"),
    "photo": re.compile(r"/photos/$"),
    "piece": re.compile(r"/photos/\w+/"),
    "seal": re.compile(r"/seal/$"),
    "list": re.compile(r"/to-keep/$"),
    "sheet": re.compile(r"/sheet/$"),
    "page": re.compile(r"/(sign|form/mix)/$"),
}
SENDING, KEEPING = ("entries", "photo", "piece", "seal"), ("list", "sheet", "page")


class FailingServer:
    """Fails each call at first, in each of three ways: an error, no answer, and an answer that is lost."""

    def __init__(self, page: Page, failing: tuple[str, ...]) -> None:
        self.calls: Counter[tuple[str, str]] = Counter()
        for call in failing:
            page.context.route(CALLS[call], partial(self.answer, call))

    def answer(self, call: str, route: Route) -> None:
        if route.request.is_navigation_request() or (route.request.method == "GET") != (call in KEEPING):
            route.continue_()
            return
        kind = (call, route.request.url.partition("?")[0])
        self.calls[kind] += 1
        match self.calls[kind]:
            case 1:
                route.fulfill(status=500, body="internal server error")
            case 2:
                pass  # no answer: the phone gives up
            case 3:
                route.fetch()
                route.abort()
            case _:
                route.continue_()

    def failed(self) -> set[str]:
        """The calls that were failed in all three ways."""
        return {call for (call, _address), many in self.calls.items() if many >= 3}


@pytest.fixture
def hurried(open_page, member, today, line) -> Page:
    """A phone with a key, on which everything is kept."""
    page = open_page(member, keeps=True, address=line.address)
    page.context.add_init_script(IN_A_HURRY)
    set_up_for_signing(page)
    return page


def take(page: Page, treatment) -> None:
    page.goto(address("section", treatment, section="protect"))
    file = {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": PICTURE}
    page.get_by_label(f"Take a photo: {TITLE}").set_input_files(file)
    expect(page.get_by_role("group", name=f"Photos: {TITLE}").get_by_role("listitem")).to_have_count(1)


def test_entries_ticks_photos_and_the_seal_come_once_and_whole(hurried, today, line):
    keep_all(hurried)
    line.cut()
    fill_in(hurried, today)
    take(hurried, today)
    sign(hurried, today)
    server = FailingServer(hurried, SENDING)
    line.mend()
    hurried.goto("/")
    expect(hurried.locator("#sealed")).to_contain_text("signed and received", timeout=PATIENCE_MS)
    assert server.failed() == set(SENDING)
    document = the_record(today)
    assert document["notes"] == "Dog kept in.\n  Gate: «la verja» ✓"
    assert len(document["weather"]["readings"]) == 1
    (step,) = document["protection"]
    assert [each["sha256"] for each in step["evidence"]] == [digest(PICTURE)]
    assert Photo.objects.for_firm(today.firm).get().is_whole
    edits = TreatmentEdit.objects.for_firm(today.firm).filter(treatment=today).values_list("path", flat=True)
    assert len(edits) == len(set(edits))


def test_what_is_typed_where_there_is_a_line_comes_once_and_whole(hurried, today):
    server = FailingServer(hurried, ("entries",))
    hurried.goto(address("section", today, section="protect"))
    hurried.get_by_label(TITLE).check()
    expect(hurried.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    hurried.goto(address("section", today, section="after"))
    hurried.get_by_label("Notes").fill("Dog kept in.")
    hurried.get_by_label("Notes").blur()
    expect(hurried.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)
    assert server.failed() == {"entries"}
    today.refresh_from_db()
    assert today.document["notes"] == "Dog kept in."
    assert [step["step"] for step in today.document["protection"]] == ["downspouts-diverted"]
    edits = TreatmentEdit.objects.for_firm(today.firm).filter(treatment=today).values_list("path", flat=True)
    assert len(edits) == len(set(edits)) == 2


def test_what_the_phone_keeps_is_kept_at_last(hurried, today, line):
    server = FailingServer(hurried, KEEPING)
    hurried.goto("/")
    wait_until_kept(hurried)
    assert server.failed() == set(KEEPING)
    line.cut()
    hurried.goto(address("sign", today))
    expect(hurried.get_by_label("The PIN of this device")).to_be_visible()
