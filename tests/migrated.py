"""The migrated database is made once for each state of the migrations, and copied for each process that tests.

They run from zero whenever one of them, a model or a dependency is another than before. Django's own migrate
still runs on each copy: it finds nothing to apply, and puts up triggers and permissions by the models of now.
"""

import fcntl
import hashlib
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.db import connection

from project.private_files import private_folder

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "var" / "migrated"
TABLES_ARE_MADE_FROM = ("*/migrations/*.py", "*/models/*.py", "shared/orm/*.py", "requirements.lock")


def state(root: Path = ROOT) -> str:
    """A name for everything that the tables are made from."""
    files = sorted(file for pattern in TABLES_ARE_MADE_FROM for file in root.glob(pattern))
    digests = [f"{file.relative_to(root)} {hashlib.sha256(file.read_bytes()).hexdigest()}" for file in files]
    return hashlib.sha256("\n".join([sys.version, *digests]).encode()).hexdigest()[:20]


@contextmanager
def copied_or_kept() -> Iterator[None]:
    """What is made meanwhile is a copy of the kept database; if there is none of this state, it is kept.

    One process at a time: the others wait for the first one's, which takes less than to make their own.
    """
    private_folder(FOLDER, ours=True)
    kept = KeptFile() if connection.vendor == "sqlite" else KeptDatabase()
    with (FOLDER / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if kept.is_there():
            with kept.copied():
                yield
        else:
            yield
            kept.keep()


class KeptFile:
    """SQLite's: a file of the folder."""

    def __init__(self) -> None:
        self.file = FOLDER / f"{state()}.sqlite3"

    def is_there(self) -> bool:
        return self.file.exists()

    @contextmanager
    def copied(self) -> Iterator[None]:
        creation = connection.creation
        make: Callable[..., str] = creation._create_test_db

        def make_and_fill(*args: Any, **kwargs: Any) -> str:
            name = make(*args, **kwargs)
            shutil.copyfile(self.file, name)
            return name

        creation._create_test_db = make_and_fill
        yield
        del creation._create_test_db

    def keep(self) -> None:
        for earlier in FOLDER.glob("*.sqlite3*"):
            earlier.unlink()
        half = self.file.with_suffix(".sqlite3-part")
        copy_to(half)
        half.rename(self.file)


class KeptDatabase:
    """PostgreSQL's: a database of the same server, which is a template for others."""

    def __init__(self) -> None:
        self.prefix = f"migrated_{connection.settings_dict['NAME']}_"
        self.name = self.prefix + state()

    def is_there(self) -> bool:
        return self.name in self.all()

    def all(self) -> list[str]:
        with connection.creation._nodb_cursor() as cursor:
            cursor.execute("SELECT datname FROM pg_database WHERE starts_with(datname, %s)", [self.prefix])
            return [name for (name,) in cursor.fetchall()]

    @contextmanager
    def copied(self) -> Iterator[None]:
        connection.settings_dict["TEST"]["TEMPLATE"] = self.name
        yield

    def keep(self) -> None:
        earlier = self.all()
        made = connection.settings_dict["NAME"]
        connection.close()
        with connection.creation._nodb_cursor() as cursor:
            for name in earlier:
                cursor.execute(f'DROP DATABASE "{name}"')
            cursor.execute(f'CREATE DATABASE "{self.name}" TEMPLATE "{made}"')


def copy_to(file: Path) -> None:
    """This process's SQLite database as a file of its own."""
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(file)])
