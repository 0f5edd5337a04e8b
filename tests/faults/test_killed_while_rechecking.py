"""A re-check that is killed anywhere goes on where it was, and stores each result once."""

import json
import os
import subprocess
import sys

import pytest

from tests.faults.test_killed_while_signing import ROOT, database_url


@pytest.fixture
def endings(transactional_db, tmp_path) -> list[dict]:
    settings = {
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "DATABASE_URL": database_url(tmp_path),
        "KEY_DIR": str(tmp_path / "keys"),
        "VAR_DIR": str(tmp_path),
    }
    run = subprocess.run(
        [sys.executable, "-m", "tests.faults.recheck_and_die"],
        cwd=ROOT,
        env=os.environ | settings,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return [json.loads(line) for line in run.stdout.splitlines()]


def test_killed_at_statement_after_statement_it_comes_to_its_end(endings):
    *before, last = endings
    assert len(before) > 10
    assert all(ending["killed"] and not ending["finished"] for ending in before)
    counts = [ending["results"] for ending in endings]
    assert counts == sorted(counts)
    assert {0, 1} < set(counts)
    assert all(ending["once"] and ending["runs"] <= 1 and ending["checks"] == 4 for ending in endings)
    assert last == {"killed": False, "results": 4, "once": True, "runs": 1, "finished": True, "checks": 4}
