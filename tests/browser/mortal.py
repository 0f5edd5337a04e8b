"""A phone with a browser of its own, which can be killed as when the battery goes, and started again."""

import os
import signal
from contextlib import suppress
from pathlib import Path

from playwright.sync_api import BrowserContext, Error, Page, Playwright

from tests.browser.chromium import executable


class MortalPhone:
    def __init__(self, playwright: Playwright, folder: Path, address: str, cookie: dict[str, str]) -> None:
        self.playwright, self.folder, self.address, self.cookie = playwright, folder, address, cookie
        self.context: BrowserContext | None = None

    def start(self) -> Page:
        """The signed-in person opens the browser; a person's session outlives it, as on a phone."""
        self.context = self.playwright.chromium.launch_persistent_context(
            self.folder,
            executable_path=executable(self.playwright),
            base_url=self.address,
            viewport={"width": 390, "height": 844},
            locale="en",
            service_workers="allow",
        )
        self.context.add_cookies([self.cookie])
        page = self.context.pages[0]
        page.set_default_timeout(10_000)
        return page

    def kill(self) -> None:
        """All of its processes at once: no page is told, nothing is written any more."""
        for process in processes_of(self.folder):
            os.kill(process, signal.SIGKILL)
        if self.context:
            with suppress(Error):  # it is closed already
                self.context.close()
        self.context = None
        (self.folder / "SingletonLock").unlink(missing_ok=True)


def processes_of(folder: Path) -> list[int]:
    """Those that were started with this folder, the browser itself and its helpers."""
    found = []
    for command in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if str(folder).encode() in command.read_bytes():
                found.append(int(command.parent.name))
        except OSError:
            continue
    return found
