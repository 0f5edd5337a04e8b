"""Take README's pictures from a service that `make run` serves: `python docs/take_pictures.py [ADDRESS]`.

Run it on a copy that may be written in: it enters a wind reading in one of today's drafts, and a request.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "docs" / "pictures"
VAR = Path(os.environ.get("VAR_DIR", ROOT / "var"))
FIRM, NEIGHBOURS_FIRM = "quillfeather", "marramcourt"
PHONE = {"width": 390, "height": 780}
DESK = {"width": 1280, "height": 860}


def sign_in(browser: Browser, address: str, role: str, size: dict[str, int], firm: str = FIRM) -> Page:
    lines = (VAR / "demo-sign-ins.txt").read_text()
    email, phrase = re.search(rf"^\s+{role}\s+(\S+@{firm}\S+)\s+(\S+)", lines, re.M).groups()
    page = browser.new_context(viewport=size, device_scale_factor=1.5).new_page()
    page.goto(address)
    page.fill("input[name=login]", email)
    page.fill("input[name=password]", phrase)
    page.press("input[name=password]", "Enter")
    page.wait_for_selector("h1")
    return page


def keep(page: Page, name: str, **options: object) -> None:
    page.screenshot(path=PICTURES / f"{name}.png", **options)


def phone(browser: Browser, address: str) -> None:
    page = sign_in(browser, address, "crew", PHONE)
    page.locator("ul.register li", has_text="Draft").locator("a").first.click()
    page.wait_for_selector("text=The work, in its order")
    treatment = page.url
    keep(page, "phone-treatment", full_page=True)
    page.goto(f"{treatment}form/weather/")
    if not page.get_by_label("Wind speed", exact=True).count():
        page.get_by_role("button", name="Add a reading").click()
    wind = page.get_by_label("Wind speed", exact=True).first
    wind.fill("14")
    wind.press("Tab")
    page.wait_for_selector("text=14 mph")
    wind.evaluate("field => field.scrollIntoView({block: 'start'})")
    page.mouse.wheel(0, -90)
    page.wait_for_timeout(500)
    keep(page, "phone-wind")
    page.goto(f"{treatment}sign/")
    page.locator("textarea").first.evaluate("box => box.scrollIntoView({block: 'center'})")
    page.wait_for_timeout(500)
    keep(page, "phone-sign")
    no_signal(page, address, treatment)


def no_signal(page: Page, address: str, treatment: str) -> None:
    page.goto(address)
    page.wait_for_selector("html[data-kept=all]", timeout=120_000)
    page.context.set_offline(True)
    page.goto(f"{treatment}form/weather/")
    wind = page.get_by_label("Wind speed", exact=True).first
    wind.fill("13")
    wind.press("Tab")
    page.wait_for_selector("text=Told by this phone")
    page.evaluate("window.scrollTo(0, 0)")
    page.wait_for_timeout(500)
    keep(page, "phone-no-signal")
    page.context.set_offline(False)


def desk(browser: Browser, address: str) -> None:
    page = sign_in(browser, address, "manager", DESK)
    page.goto(f"{address}/treatments/?words=moss")
    keep(page, "register")
    page.locator("ul.register li", has_text="Signed").locator("a.number").first.click()
    sheet = page.locator("a[href*='record-sheet-']").first.get_attribute("href")
    keep_paper(page.context.request.get(address + sheet).body(), "record-sheet")
    record = page.locator("a[href$='record.json']").first.get_attribute("href")
    token = page.context.request.get(address + record).json()["entry"]["proof"]
    page.set_viewport_size(PHONE)
    page.goto(f"{address}/proof/{token}/")
    keep(page, "proof")


def neighbours(browser: Browser, address: str) -> None:
    """Who is told of the lawn that lies ahead, and the letter that waits in the office."""
    page = sign_in(browser, address, "office", DESK, NEIGHBOURS_FIRM)
    page.goto(f"{address}/treatments/?state=draft")
    page.locator("ul.register li a.number").last.click()
    page.wait_for_selector("text=The work, in its order")
    treatment = page.url
    page.goto(f"{treatment}notices/")
    keep(page, "who-is-told")
    page.goto(f"{treatment}notices/sent/")
    waiting = page.locator("ul.notices > li", has=page.locator(".status", has_text="Printed"))
    letter = waiting.locator("a[href*='/files/']").get_attribute("href")
    keep_paper(page.context.request.get(address + letter).body(), "letter")


def asked_for(browser: Browser, address: str) -> None:
    """A regulator asks for one product from May to July; and what needs the manager."""
    page = sign_in(browser, address, "manager", DESK)
    page.goto(f"{address}/treatments/?product=99999-12&day_from=2026-05-01&day_to=2026-07-31")
    page.get_by_role("link", name="Somebody asks for these").click()
    page.fill("input[name=name]", "Department of Examples, field office")
    page.fill("textarea[name=asked_for]", "Every application of this product from May to July, by Thursday.")
    page.select_option("select[name=duty]", "us-wa: RCW 17.21.100(4)(a), (b)")
    page.get_by_role("button", name="Keep this request").click()
    page.wait_for_selector("text=What is searched for")
    keep(page, "request")
    page.goto(f"{address}/desk/")
    keep(page, "desk")


def keep_paper(pdf: bytes, name: str) -> None:
    with tempfile.NamedTemporaryFile(suffix=".pdf") as paper:
        paper.write(pdf)
        paper.flush()
        subprocess.run(  # noqa: S603
            ["/usr/bin/pdftoppm", "-r", "90", "-png", "-singlefile", paper.name, PICTURES / name],
            check=True,
        )


def main() -> None:
    address = sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8000"
    with sync_playwright() as playwright:
        found = shutil.which("chromium-headless-shell") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=found)
        phone(browser, address)
        desk(browser, address)
        neighbours(browser, address)
        asked_for(browser, address)
        browser.close()


if __name__ == "__main__":
    main()
