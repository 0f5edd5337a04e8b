"""Where the Chromium is that walks the pages."""

import fcntl
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from playwright.sync_api import Playwright

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
    if os.geteuid() == 0 and shutil.which("apt-get"):
        install()
    found = on_path()
    if not found:
        raise RuntimeError(MISSING)
    return found


def install() -> None:
    """Debian's package, once: the test run has several processes, and the package manager lets in one."""
    with (Path(tempfile.gettempdir()) / "treatment-log-chromium.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not on_path():
            subprocess.run(["apt-get", "update", "-qq"], check=False)
            subprocess.run(["apt-get", "install", "-qq", "-y", PACKAGE], check=False)


def on_path() -> str | None:
    return next((path for path in map(shutil.which, NAMES) if path), None)
