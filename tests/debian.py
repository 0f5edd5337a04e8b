"""Programs that tests ask for a second opinion; Debian's are installed where the tests run as root."""

import fcntl
import os
import shutil
import subprocess
import tempfile
from pathlib import Path


def program(name: str, package: str) -> str:
    """The path of a program. Raises RuntimeError with one sentence where there is none."""
    if not shutil.which(name) and os.geteuid() == 0 and shutil.which("apt-get"):
        _install(name, package)
    found = shutil.which(name)
    if not found:
        raise RuntimeError(f"No {name}: install {package}, or run as root where apt-get can install it.")
    return found


def _install(name: str, package: str) -> None:
    """Once: the test run has several processes, and the package manager lets in one."""
    with (Path(tempfile.gettempdir()) / f"treatment-log-{package}.lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not shutil.which(name):
            subprocess.run(["apt-get", "update", "-qq"], check=False)
            subprocess.run(["apt-get", "install", "-qq", "-y", package], check=False)
