"""Programs of Debian that tests ask for, installed where the tests run as root."""

import fcntl
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path


def program(name: str, package: str) -> str:
    """The path of a program. Raises RuntimeError with one sentence where there is none."""
    found = shutil.which(name) or installed(package, lambda: shutil.which(name))
    if not found:
        raise RuntimeError(f"No {name}: install {package}, or run as root where apt-get can install it.")
    return found


def installed(package: str, find: Callable[[], str | None]) -> str | None:
    """What `find` finds once the package is there, if it can be had.

    The test run has several processes, and the package manager lets in one: they take turns, for all packages.
    """
    if os.geteuid() != 0 or not shutil.which("apt-get"):
        return None
    with (Path(tempfile.gettempdir()) / "treatment-log-packages.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not find():
            subprocess.run(["apt-get", "update", "-qq"], check=False)
            subprocess.run(["apt-get", "install", "-qq", "-y", package], check=False)
        return find()
