"""The log of a firm with many signed records: looking at it and entering into it, in a database of its own."""

import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.timing import Ratio

RECORDS = 20_000
MICRO = 1e-6


def ratios() -> list[Ratio]:
    found = {name: each * MICRO for name, each in _measured(RECORDS).items()}
    of = f"of a log of {RECORDS:,}"
    return [
        Ratio(
            f"look at one record {of}",
            "SHA-256 over its stored bytes, each line as it is bound",
            found["look"],
            found["bare_by_line"],
        ),
        Ratio(f"the same {of}", "SHA-256 over them in two pieces", found["look"], found["bare"]),
        Ratio(
            f"keep and enter one record {of}, committed",
            "insert of the same bytes, committed",
            found["append"],
            found["bare_insert"],
        ),
    ]


def _measured(records: int) -> dict[str, float]:
    """What `benchmarks.log_at_scale` prints, in microseconds, of a new SQLite database."""
    with TemporaryDirectory() as made:
        settings = {
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "DATABASE_URL": f"sqlite:///{Path(made) / 'log.sqlite3'}",
            "VAR_DIR": made,
        }
        program = [sys.executable, "-m", "benchmarks.log_at_scale", str(records)]
        told = subprocess.run(program, env={**os.environ, **settings}, capture_output=True, check=True)
    return dict(json.loads(told.stdout.splitlines()[-1]))
