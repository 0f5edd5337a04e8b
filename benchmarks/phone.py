"""How soon the first screen stands on a slow phone, with what is kept on it; a program.

`python -m benchmarks.phone http://127.0.0.1:8000 MAIL PASSWORD` signs in to a running demo, keeps what a phone
keeps, makes processor and line slow as a cheap phone's on a weak signal, and prints for Today and the first
screen of the form, in a table: until the page can be used, and the bytes of scripts and styles over the wire.
"""

import statistics
import sys
import time

from playwright.sync_api import BrowserContext, CDPSession, Page, sync_playwright

from tests.browser.chromium import executable

SLOWER = 4
"""Times slower than this machine's processor."""
WEAK_LINE = {"offline": False, "latency": 400, "downloadThroughput": 50_000, "uploadThroughput": 20_000}
NO_LINE = {**WEAK_LINE, "offline": True}
RUNS = 7
LOADED = """() => performance.getEntriesByType("resource")
  .filter(({ initiatorType }) => ["script", "link"].includes(initiatorType))
  .reduce((sum, { encodedBodySize }) => sum + encodedBodySize, 0)"""


def signed_in(context: BrowserContext, mail: str, password: str) -> Page:
    page = context.new_page()
    page.goto("/accounts/login/")
    page.fill("input[name=login]", mail)
    page.fill("input[name=password]", password)
    page.keyboard.press("Enter")
    page.wait_for_selector("html[data-kept=all]", state="attached", timeout=300_000)
    return page


def milliseconds(page: Page, address: str) -> float:
    """From asking for the page until it can be used: its scripts have run, and a touch is answered."""
    times = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        page.goto(address, wait_until="domcontentloaded")
        page.evaluate("() => new Promise((done) => requestAnimationFrame(() => setTimeout(done)))")
        times.append(1000 * (time.perf_counter() - begun))
    return statistics.median(times)


def bytes_over_the_wire(context: BrowserContext, address: str) -> int:
    """Of the scripts and styles that a first visit loads, compressed as the service sends them."""
    fresh = context.browser.new_context(service_workers="block", storage_state=context.storage_state())
    page = fresh.new_page()
    page.goto(address, wait_until="networkidle")
    total = page.evaluate(LOADED)
    fresh.close()
    return total


def slowed(page: Page, line: dict) -> CDPSession:
    cdp = page.context.new_cdp_session(page)
    cdp.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    cdp.send("Network.enable")
    cdp.send("Network.emulateNetworkConditions", line)
    return cdp


def main() -> None:
    site, mail, password = sys.argv[1:]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable(playwright))
        context = browser.new_context(base_url=site, viewport={"width": 390, "height": 844})
        page = signed_in(context, mail, password)
        draft = page.locator("ul.register li", has_text="Draft").locator("a").first
        form = f"{draft.get_attribute('href')}form/arrive/"
        rows = [
            (name, bytes_over_the_wire(context, f"{site}{address}"), address)
            for name, address in (("Today", "/"), ("the form's first screen", form))
        ]
        print("| screen | scripts and styles | weak line | no line |")
        print("| --- | ---: | ---: | ---: |")
        for name, size, address in rows:
            slowed(page, WEAK_LINE)
            weak = milliseconds(page, address)
            slowed(page, NO_LINE)
            without = milliseconds(page, address)
            print(f"| {name} | {size / 1000:.0f} kB | {weak:.0f} ms | {without:.0f} ms |")
        browser.close()


if __name__ == "__main__":
    main()
