"""An old log of treatments on its way in, in a database of its own, against a bare insert of the same rows."""

import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.timing import Ratio

ROWS = 2_000


def ratios() -> list[Ratio]:
    found = _measured(ROWS)
    bare = found["bare"]
    return [
        Ratio(
            f"look at one row of {ROWS:,} of an old log",
            "insert of its treatment, in bulk",
            found["look"],
            bare,
        ),
        Ratio(f"bring one in, of {ROWS:,}, with history and search", "the same", found["take"], bare),
    ]


def _measured(rows: int) -> dict[str, float]:
    """What `benchmarks.bringing_in_at_scale` prints, in seconds, of a new SQLite database."""
    with TemporaryDirectory() as made:
        settings = {
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "DATABASE_URL": f"sqlite:///{Path(made) / 'log.sqlite3'}",
            "VAR_DIR": made,
        }
        program = [sys.executable, "-m", "benchmarks.bringing_in_at_scale", str(rows)]
        told = subprocess.run(program, env={**os.environ, **settings}, capture_output=True, check=True)
    return dict(json.loads(told.stdout.splitlines()[-1]))
