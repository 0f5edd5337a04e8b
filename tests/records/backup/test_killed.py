"""A backup that is killed leaves no half file, and a restore that is killed leaves what was there before."""

import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from records.backup.archive import written_whole
from records.backup.swap import Swap
from records.backup.wordings import BackupError
from tests.health.committed import ROOT

KILLED_WHILE_WRITING = """
import os, signal, sys
from pathlib import Path
from records.backup.archive import written_whole
with written_whole(Path(sys.argv[1])) as out:
    out.write(b"half of it")
    out.flush()
    os.kill(os.getpid(), signal.SIGKILL)
"""


def test_a_killed_backup_has_no_file_under_its_name_and_does_not_stand_in_the_way_of_the_next(tmp_path):
    file = tmp_path / "backup.zip"
    run = subprocess.run([sys.executable, "-c", KILLED_WHILE_WRITING, str(file)], cwd=ROOT, check=False)
    assert (run.returncode, file.exists()) == (-signal.SIGKILL, False)
    with written_whole(file) as out:
        assert not file.exists()
        out.write(b"all")
    assert file.read_bytes() == b"all"
    assert list(tmp_path.iterdir()) == [file]


def test_two_backups_to_one_name_do_not_mix(tmp_path):
    file = tmp_path / "backup.zip"
    with written_whole(file) as out:
        out.write(b"all")
        with pytest.raises(BackupError, match="at_work"), written_whole(file):
            pass
    assert file.read_bytes() == b"all"


class OneFile:
    """A database that is one text file, put in at once or not at all."""

    engine, member = "one-file", "database"

    def __init__(self, live: Path) -> None:
        self.live = live

    def copy_to(self, path: Path) -> None:
        shutil.copyfile(self.live, path)

    def put_in(self, path: Path) -> None:
        beside = self.live.with_suffix(".beside")
        shutil.copyfile(path, beside)
        beside.rename(self.live)


class KilledError(BaseException):
    pass


@pytest.fixture
def swap(tmp_path) -> Swap:
    for name, text in {"one": "old", "two": "old"}.items():
        (tmp_path / "files" / name).mkdir(parents=True)
        (tmp_path / "files" / name / "photo").write_text(text)
    (tmp_path / "database").write_text("old")
    (tmp_path / "var").mkdir()
    return Swap(OneFile(tmp_path / "database"), tmp_path / "var", tmp_path / "files")


def unpacked(swap: Swap) -> None:
    for name in ("two", "three"):
        (swap.new / "files" / name).mkdir(parents=True)
        (swap.new / "files" / name / "photo").write_text("new")
    (swap.new / "database").write_text("new")


def stands(swap: Swap) -> dict[str, str]:
    found = {path.parent.name: path.read_text() for path in swap.files.glob("[!.]*/photo")}
    return {**found, "database": swap.database.live.read_text()}


OLD = {"one": "old", "two": "old", "database": "old"}
NEW = {"two": "new", "three": "new", "database": "new"}


def killed_at(step: int, monkeypatch, work) -> bool:
    """Whether `work` was killed before its `step`th change of a name."""
    left = [step]

    def counted(function):
        def run(*arguments, **options):
            if left[0] == 0:
                raise KilledError
            left[0] -= 1
            return function(*arguments, **options)

        return run

    with monkeypatch.context() as patch:
        for name in ("rename", "unlink", "touch"):
            patch.setattr(Path, name, counted(getattr(Path, name)))
        for name in ("move", "rmtree"):
            patch.setattr(shutil, name, counted(getattr(shutil, name)))
        try:
            work()
        except KilledError:
            return True
    return False


def put_in(swap: Swap) -> None:
    swap.make_room()
    unpacked(swap)
    swap.start()
    swap.put_in(swap.new / "database", swap.new / "files")
    swap.finish()


STEPS = range(25)


@pytest.mark.parametrize("step", STEPS)
def test_after_a_restore_that_was_killed_all_of_it_is_old_or_all_of_it_new(swap, step, monkeypatch):
    killed = killed_at(step, monkeypatch, lambda: put_in(swap))
    swap.put_back_what_was_left()
    assert stands(swap) in ([OLD, NEW] if killed else [NEW])


@pytest.mark.parametrize("step", STEPS)
def test_putting_back_may_be_killed_too_and_is_done_again(swap, step, monkeypatch):
    swap.make_room()
    unpacked(swap)
    swap.start()
    swap.put_in(swap.new / "database", swap.new / "files")
    killed_at(step, monkeypatch, swap.put_back)
    swap.put_back_what_was_left()
    assert stands(swap) == OLD


def test_there_are_enough_steps_to_kill_it_at_every_one(swap, monkeypatch):
    assert not killed_at(STEPS[-1], monkeypatch, lambda: put_in(swap))
    assert killed_at(10, monkeypatch, lambda: put_in(swap))


def test_after_a_killed_one_the_next_restore_goes_through(swap, monkeypatch):
    for step in STEPS:
        killed_at(step, monkeypatch, lambda: put_in(swap))
        swap.put_back_what_was_left()
        assert stands(swap) in (OLD, NEW)
    put_in(swap)
    assert stands(swap) == NEW
