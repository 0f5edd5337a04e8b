"""The lot number is read from the code on the container, where the browser can read codes and has a camera.

GS1 General Specifications: element strings, AI (10) batch or lot number (lengths of the others from memory).
"""

import pytest
from playwright.sync_api import Page, expect

from records.models import Treatment
from tests.browser.phone import comes_to
from tests.browser.test_every_page import LEAST_TARGET, violations
from tests.browser.test_journey import saved
from tests.factories import LotFactory

pytestmark = pytest.mark.browser

READS = """(text) => {
  window.BarcodeDetector = class {
    async detect(video) {
      if (!(video.videoWidth > 0)) throw new Error("no picture yet");
      return [{ rawValue: text }];
    }
  };
}"""
REFUSES = """navigator.mediaDevices.getUserMedia = async () => {
  throw new DOMException("refused by the person", "NotAllowedError");
};"""
SEPARATOR = "\x1d"


@pytest.fixture
def more_lots(firm, plan) -> None:
    LotFactory(firm=firm, label=plan.products[0].lot.label, number="L-0500")


@pytest.fixture
def reader(open_page, member, draft):
    """Opens the Mix screen of a phone whose browser reads `text` from whatever the camera shows."""

    def open_(text: str, allowed: bool = True) -> Page:
        page = open_page(member)
        if not allowed:
            page.add_init_script(REFUSES)
        page.add_init_script(f"({READS})({text!r})")
        page.goto(f"/treatments/{draft.pk}/form/mix/")
        return page

    return open_


def lot_of(draft: Treatment) -> str:
    draft.refresh_from_db()
    return draft.document["mixes"][0]["products"][0].get("lot")


def lot(page: Page):
    return page.get_by_label("Lot number on the container", exact=True)


def test_the_lot_is_read_by_the_camera_and_can_be_undone(reader, draft):
    page = reader("(01)09506000134352(10)B-77")
    page.get_by_role("button", name="Scan the code on the container").click()
    expect(lot(page)).to_have_value("B-77")
    expect(page.locator("#save-state")).to_have_text("Saved.")
    assert lot_of(draft) == "B-77"
    expect(page.get_by_text("Read from the code: (01)09506000134352(10)B-77")).to_be_visible()
    comes_to(page, "document.querySelector('#scan-pane video').srcObject", None)
    page.get_by_role("button", name="Undo").click()
    expect(lot(page)).to_have_value("L-0457")
    saved(page)
    assert lot_of(draft) == "L-0457"


def test_where_the_browser_reads_no_codes_there_is_no_button(open_page, member, draft):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/mix/")
    page.wait_for_load_state("networkidle")
    expect(page.locator("[data-scan]")).to_have_count(1)
    expect(page.locator("[data-scan]")).to_be_hidden()


@pytest.mark.long
def test_who_may_not_use_the_camera_is_told_and_can_go_back_to_typing(reader):
    page = reader("B-77", allowed=False)
    page.get_by_role("button", name="Scan the code on the container").click()
    pane = page.get_by_role("dialog")
    expect(pane).to_contain_text("may not use the camera")
    assert violations(page) == []
    close = pane.get_by_role("button", name="Close the camera")
    assert close.bounding_box()["height"] >= LEAST_TARGET
    close.click()
    expect(pane).to_be_hidden()
    expect(lot(page)).to_have_value("L-0457")


LOTS_IN = {
    "L-0457": "L-0457",
    " 10ABC ": "10ABC",
    "https://example.net/10/ABC": "https://example.net/10/ABC",
    "(10)ABC 1(17)270131": "ABC 1",
    "010950600013435210ABC123": "ABC123",
    f"0109506000134352{SEPARATOR}10ABC": "ABC",
    f"01095060001343521727013110ABC{SEPARATOR}21S1": "ABC",
    f"010950600013435221S1{SEPARATOR}10ABC": "ABC",
    f"]d2010950600013435210ABC{SEPARATOR}": "ABC",
    f"{SEPARATOR}10ABC{SEPARATOR}17270131": "ABC",
    "010950600013435310ABC": "010950600013435310ABC",
    "0109506000134352": "0109506000134352",
}


def test_of_an_element_string_the_part_of_the_lot_is_taken_else_the_whole_text(reader):
    page = reader("")
    assert {text: page.evaluate("(text) => containerCode.lotIn(text)", text) for text in LOTS_IN} == LOTS_IN


@pytest.mark.long
def test_a_lot_on_hand_is_taken_at_a_touch_with_and_without_a_connection(open_page, member, draft, more_lots):
    page = open_page(member)
    page.goto(f"/treatments/{draft.pk}/form/mix/")
    page.get_by_role("button", name="Take lot L-0500, 5 gal on hand").click()
    expect(lot(page)).to_have_value("L-0500")
    assert lot_of(draft) == "L-0500"
    page.context.set_offline(True)
    page.get_by_role("button", name="Take lot L-0457").click()
    expect(lot(page)).to_have_value("L-0457")
    expect(page.locator("#save-state")).to_contain_text("Not saved yet")
