"""A process that is killed while it signs leaves a draft or a signed record, never half of one."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection

ROOT = Path(__file__).resolve().parent.parent.parent


def database_url(folder: Path) -> str:
    """A file of its own on SQLite; on PostgreSQL this test's database, which is emptied afterwards."""
    if connection.vendor == "sqlite":
        return f"sqlite:///{folder / 'killed.sqlite3'}"
    own = connection.settings_dict
    return f"postgres://{own['USER']}:{own['PASSWORD']}@{own['HOST']}:{own['PORT']}/{own['NAME']}"


@pytest.fixture
def endings(transactional_db, tmp_path) -> list[dict]:
    settings = {
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "DATABASE_URL": database_url(tmp_path),
        "KEY_DIR": str(tmp_path / "keys"),
        "VAR_DIR": str(tmp_path),
    }
    run = subprocess.run(
        [sys.executable, "-m", "tests.faults.sign_and_die"],
        cwd=ROOT,
        env=os.environ | settings,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return [json.loads(line) for line in run.stdout.splitlines()]


NOTHING = {"killed": True, "state": "draft", "outcome": "", "signed": 0, "checks": 0, "keys": 0}
ALL = {"state": "signed", "outcome": "not_met", "signed": 1, "checks": 1, "keys": 1}


def test_killed_at_any_point_it_leaves_the_draft_or_the_whole_record_once(endings):
    *before, after_commit, again, twice = endings
    assert len(before) > 15
    assert before[-1]["point"] == "before commit"
    for ending in before:
        assert ending == {"point": ending["point"], **NOTHING}
    assert after_commit == {"point": "after commit", "killed": True, **ALL}
    assert again == {"point": "sent again", "killed": False, **ALL}
    assert twice == {"point": "twice at once", "killed": False, **ALL}
