"""Set database and files against others, in steps after each of which the old ones can be put back."""

import os
import shutil
from dataclasses import dataclass
from pathlib import Path

from records.backup.databases import Database

NEW, BEFORE = ".restoring", ".before-restore"


@dataclass(frozen=True)
class Swap:
    """What is unpacked lies in `new`, what was in service before in `before` and, of the files, in a folder of
    that name beside them: both on the same disk, so that files are moved and not copied."""

    database: Database
    var: Path
    files: Path

    @property
    def new(self) -> Path:
        return self.var / NEW

    @property
    def before(self) -> Path:
        return self.var / BEFORE

    @property
    def _old_database(self) -> Path:
        return self.before / self.database.member

    @property
    def _all_moved_away(self) -> Path:
        return self.before / "files-moved"

    @property
    def _done(self) -> Path:
        return self.var / ".restored"

    @property
    def _old_files(self) -> Path:
        return self.files / BEFORE

    def make_room(self) -> None:
        """A folder to unpack into, and none of what a killed restore left."""
        for folder in (self.new, self._old_files, self._done):
            shutil.rmtree(folder, ignore_errors=True)
        self.new.mkdir(mode=0o700, parents=True)

    def give_up(self) -> None:
        """Leave nothing of what was unpacked; what is in service was not touched."""
        shutil.rmtree(self.new, ignore_errors=True)

    def start(self) -> None:
        for folder in (self.before, self.files, self._old_files):
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        half = self.before / "half"
        half.unlink(missing_ok=True)
        half.touch(mode=0o600)
        self.database.copy_to(half)
        _onto_the_disk(half)
        half.rename(self._old_database)

    def put_in(self, database: Path, files: Path) -> None:
        for path in _visible(self.files):
            path.rename(self._old_files / path.name)
        self._all_moved_away.touch()
        for path in _visible(files):
            shutil.move(path, self.files / path.name)
        self.database.put_in(database)

    def put_back(self) -> None:
        """May be broken off and done again."""
        if self._all_moved_away.exists():
            for path in _visible(self.files):
                shutil.rmtree(path) if path.is_dir() else path.unlink()
            self._all_moved_away.unlink()
        for path in _visible(self._old_files):
            path.rename(self.files / path.name)
        if self._old_database.exists():
            self.database.put_in(self._old_database)
        self.finish()

    def put_back_what_was_left(self) -> None:
        """After a restore that was killed."""
        if self.before.exists():
            self.put_back()

    def finish(self) -> None:
        """Let go of what is not wanted any more; by one move, after which nothing is put back."""
        self.before.rename(self._done)
        for folder in (self._done, self._old_files, self.new):
            shutil.rmtree(folder, ignore_errors=True)


def _visible(folder: Path) -> list[Path]:
    return [path for path in folder.iterdir() if not path.name.startswith(".")] if folder.exists() else []


def _onto_the_disk(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    os.fsync(handle)
    os.close(handle)
