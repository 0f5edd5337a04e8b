"""Where the Chromium is that walks the pages."""

import os
import shutil
from pathlib import Path

from playwright.sync_api import Playwright

from tests.debian import installed

PACKAGE = "chromium-headless-shell"
"""Debian's Chromium without the windows' own pages, which take a browser without a screen most of its time."""
NAMES = (PACKAGE, "chromium", "chromium-browser", "google-chrome", "chrome")
MISSING = (
    "No Chromium: set CHROMIUM to one, put one on PATH, run `playwright install chromium`, or run as root "
    "where apt-get can install it."
)


def executable(playwright: Playwright) -> str:
    """The path of a Chromium: CHROMIUM, one on PATH, Playwright's own, else Debian's, installed when root.

    Raises RuntimeError with one sentence where there is none.
    """
    found = os.environ.get("CHROMIUM") or on_path()
    if found:
        return found
    if Path(playwright.chromium.executable_path).exists():
        return playwright.chromium.executable_path
    found = installed(PACKAGE, on_path)
    if not found:
        raise RuntimeError(MISSING)
    return found


def on_path() -> str | None:
    return next((path for path in map(shutil.which, NAMES) if path), None)
