"""Run a program of this folder on a database of its own, so that it can be killed, and read what it prints."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from django.db import connection

from tests.migrated import copy_to

ROOT = Path(__file__).resolve().parent.parent.parent


def environment(folder: Path) -> dict[str, str]:
    """The tests' settings, with everything that is kept in `folder`."""
    return os.environ | {
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "DATABASE_URL": database_url(folder),
        "KEY_DIR": str(folder / "keys"),
        "VAR_DIR": str(folder),
    }


def database_url(folder: Path) -> str:
    """On SQLite a copy of this test's database; on PostgreSQL itself, which is emptied afterwards."""
    if connection.vendor == "sqlite":
        own = folder / "own.sqlite3"
        if not own.exists():
            copy_to(own)
        return f"sqlite:///{own}"
    own = connection.settings_dict
    return f"postgres://{own['USER']}:{own['PASSWORD']}@{own['HOST']}:{own['PORT']}/{own['NAME']}"


def printed_by(program: str, folder: Path, *arguments: str) -> list[dict[str, Any]]:
    """The JSON lines that a program of this folder prints; it must come to its end."""
    run = subprocess.run(
        [sys.executable, "-m", f"tests.faults.{program}", *arguments],
        cwd=ROOT,
        env=environment(folder),
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return [json.loads(line) for line in run.stdout.splitlines()]
