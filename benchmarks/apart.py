"""Programs of this folder that fill a database of their own."""

import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory


def measured(program: str, count: int) -> dict[str, float]:
    """What `benchmarks.<program>` prints for so many rows, in its own units, of a new SQLite database."""
    with TemporaryDirectory() as made:
        settings = {
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "DATABASE_URL": f"sqlite:///{Path(made) / 'log.sqlite3'}",
            "VAR_DIR": made,
        }
        command = [sys.executable, "-m", f"benchmarks.{program}", str(count)]
        told = subprocess.run(command, env={**os.environ, **settings}, capture_output=True, check=True)
    return dict(json.loads(told.stdout.splitlines()[-1]))
