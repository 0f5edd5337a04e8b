"""On a machine with several users, nobody but the one that runs the site reads what it keeps."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from project.private_files import private_file, private_folder

ROOT = Path(__file__).resolve().parents[2]


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_the_first_start_makes_folder_database_and_secret_for_this_user_alone(tmp_path):
    kept = tmp_path / "var"
    told = {"VAR_DIR": str(kept), "PATH": os.environ["PATH"]}
    subprocess.run(
        [sys.executable, "-c", "import os; os.umask(0o022); import project.settings"],
        cwd=ROOT, env=told, check=True,
    )  # fmt: skip
    assert {path.name: oct(mode(path)) for path in (kept, *kept.iterdir())} == {
        "var": "0o700",
        "secret-key": "0o600",
        "treatment-log.sqlite3": "0o600",
    }


def test_a_database_from_before_is_closed_to_others_and_keeps_what_it_holds(tmp_path):
    database = tmp_path / "log.sqlite3"
    database.write_bytes(b"rows")
    database.chmod(0o644)
    private_file(database)
    assert (mode(database), database.read_bytes()) == (0o600, b"rows")


@pytest.mark.parametrize(("ours", "expected"), [(True, 0o700), (False, 0o755)])
def test_a_folder_that_was_there_is_closed_only_where_it_is_ours_alone(tmp_path, ours, expected):
    folder = tmp_path / "var"
    folder.mkdir()
    folder.chmod(0o755)
    private_folder(folder, ours)
    assert mode(folder) == expected
