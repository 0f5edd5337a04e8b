"""Copy the whole database into a file while it is in use, and put such a copy in, whole or not at all."""

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import Protocol

from django.db import connection
from django.db.backends.postgresql.client import DatabaseClient

from records.backup.wordings import BackupError

SECONDS_TO_WAIT = 20
"""For who is writing; as long as CLEAR waits on PostgreSQL."""

CLEAR = """
SET lock_timeout = '20s';
DO $$ DECLARE command text; BEGIN
FOR command IN
    SELECT format('DROP TABLE %I CASCADE', tablename) FROM pg_tables WHERE schemaname = current_schema()
    UNION ALL
    SELECT format('DROP FUNCTION %s CASCADE', oid::regprocedure) FROM pg_proc
    WHERE pronamespace = current_schema()::regnamespace
    AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_proc.oid AND deptype = 'e')
LOOP EXECUTE command; END LOOP;
END $$;
"""


class Database(Protocol):
    engine: str
    member: str

    def copy_to(self, path: Path) -> None: ...

    def put_in(self, path: Path) -> None: ...

    def clear(self) -> None: ...


class SQLite:
    engine, member = "sqlite", "database.sqlite3"

    def copy_to(self, path: Path) -> None:
        """In one step, so that who writes meanwhile neither waits nor makes it start again."""
        try:
            with closing(_opened(_live())) as live, closing(_opened(path)) as copy:
                live.backup(copy)
                found = copy.execute("PRAGMA quick_check").fetchone()[0]
                copy.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.Error as error:
            raise BackupError("backup/not_copied", why=str(error)) from error
        if found != "ok":
            raise BackupError("backup/not_copied", why=found)

    def put_in(self, path: Path) -> None:
        """One transaction of the database's own: who is killed in it leaves what was there."""
        connection.close()
        try:
            with closing(_opened(path)) as copy, closing(_opened(_live())) as live:
                copy.backup(live)
        except sqlite3.Error as error:
            raise BackupError("restore/broken_off", why=str(error)) from error

    def clear(self) -> None:
        """No table is left."""
        connection.close()
        with closing(sqlite3.connect(":memory:")) as nothing, closing(_opened(_live())) as live:
            nothing.backup(live)


def _live() -> Path:
    return Path(connection.settings_dict["NAME"])


def _opened(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=SECONDS_TO_WAIT)


class PostgreSQL:
    engine, member = "postgresql", "database.dump"

    def copy_to(self, path: Path) -> None:
        _run("pg_dump", "--format=custom", "--no-owner", "--no-privileges", f"--file={path}")

    def put_in(self, path: Path) -> None:
        """All in one transaction, what stood there before included."""
        clear, script = path.with_suffix(".clear.sql"), path.with_suffix(".sql")
        clear.write_text(CLEAR)
        command = [_program("pg_restore"), "--no-owner", "--no-privileges", f"--file={script}", str(path)]
        _come_to_an_end("pg_restore", command, os.environ)
        connection.close()
        _run(
            "psql", "--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1",
            f"--file={clear}", f"--file={script}",
        )  # fmt: skip

    def clear(self) -> None:
        """No table is left."""
        with connection.cursor() as cursor:
            cursor.execute(CLEAR)


def _run(program: str, *arguments: str) -> None:
    command, own = DatabaseClient.settings_to_cmd_args_env(connection.settings_dict, arguments)
    _come_to_an_end(program, [_program(program), *command[1:]], {**os.environ, **(own or {})})


def _program(name: str) -> str:
    path = shutil.which(name)
    if path is None:
        raise BackupError("backup/no_program", program=name)
    return path


def _come_to_an_end(
    program: str, command: Sequence[str], environment: dict[str, str] | os._Environ[str]
) -> None:
    ended = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)  # noqa: S603
    if ended.returncode:
        said = ended.stderr.strip().splitlines() or [f"exit code {ended.returncode}"]
        raise BackupError("backup/program_failed", program=program, why=said[0])


def database() -> Database:
    return SQLite() if connection.vendor == "sqlite" else PostgreSQL()
