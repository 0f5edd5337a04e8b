"""Triggers by which SQLite and PostgreSQL refuse to change, remove or replace an append-only row.

SQLite drops a table's triggers when Django remakes the table for a migration, so they are put back after
every migrate. They are the guard rail, not the evidence: who holds the database file can drop them.
"""

from typing import Any

from django.apps import AppConfig, apps
from django.core import checks
from django.db import DEFAULT_DB_ALIAS, connections, models
from django.db.backends.base.base import BaseDatabaseWrapper

REFUSAL = "this row may be added but never changed or removed"

POSTGRESQL_FUNCTION = f"""
CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION '{REFUSAL}' USING ERRCODE = '23001'; END $$
"""


def append_only_tables(app_label: str | None = None) -> list[type[models.Model]]:
    """The append-only models of one app, or of all."""
    return [
        model
        for model in apps.get_models()
        if getattr(model, "append_only", False) and app_label in (None, model._meta.app_label)
    ]


def trigger_names(table: str, vendor: str) -> list[str]:
    """Names of the triggers that must stand on `table`."""
    events = ("change", "removal", "replacement") if vendor == "sqlite" else ("change", "truncation")
    return [f"{table}_refuses_{event}" for event in events]


def _sqlite(table: str, key: str) -> list[str]:
    change, removal, replacement = trigger_names(table, "sqlite")
    refuse = f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
    taken = f'WHEN EXISTS (SELECT 1 FROM "{table}" WHERE "{key}" = NEW."{key}")'  # noqa: S608 - names from our models
    return [
        f'CREATE TRIGGER IF NOT EXISTS "{change}" BEFORE UPDATE ON "{table}" {refuse}',
        f'CREATE TRIGGER IF NOT EXISTS "{removal}" BEFORE DELETE ON "{table}" {refuse}',
        f'CREATE TRIGGER IF NOT EXISTS "{replacement}" BEFORE INSERT ON "{table}" {taken} {refuse}',
    ]


def _postgresql(table: str, key: str) -> list[str]:
    change, truncation = trigger_names(table, "postgresql")
    return [
        POSTGRESQL_FUNCTION,
        f'CREATE OR REPLACE TRIGGER "{change}" BEFORE UPDATE OR DELETE ON "{table}" '
        "FOR EACH ROW EXECUTE FUNCTION refuse_change()",
        f'CREATE OR REPLACE TRIGGER "{truncation}" BEFORE TRUNCATE ON "{table}" '
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
    ]


def install(sender: AppConfig, using: str = DEFAULT_DB_ALIAS, **kwargs: Any) -> None:
    """Put the triggers on the tables of one app; a receiver of `post_migrate`."""
    connection = connections[using]
    statements = _sqlite if connection.vendor == "sqlite" else _postgresql
    present = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for model in append_only_tables(sender.label):
            if model._meta.db_table in present:
                for sql in statements(model._meta.db_table, model._meta.pk.column):
                    cursor.execute(sql)


def standing(connection: BaseDatabaseWrapper) -> set[str]:
    """Names of all triggers that the database has."""
    query = (
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        if connection.vendor == "sqlite"
        else "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
    )
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {name for (name,) in cursor.fetchall()}


def missing(connection: BaseDatabaseWrapper) -> list[str]:
    """Names of triggers that should stand on a table of this database and do not."""
    present = set(connection.introspection.table_names())
    wanted = [
        name
        for model in append_only_tables()
        if model._meta.db_table in present
        for name in trigger_names(model._meta.db_table, connection.vendor)
    ]
    return sorted(set(wanted) - standing(connection))


def check_triggers(databases: Any = None, **kwargs: Any) -> list[checks.CheckMessage]:
    """System check `shared.E001`: every append-only table has its triggers."""
    return [
        checks.Error(
            f"Signed rows could be changed: the trigger {name} is gone from database {alias!r}.",
            hint="Run manage.py migrate, which puts it back.",
            id="shared.E001",
        )
        for alias in databases or ()
        for name in missing(connections[alias])
    ]


def remove(connection: BaseDatabaseWrapper) -> None:
    """Take all append-only triggers down, so that a test database can be emptied."""
    present = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for model in append_only_tables():
            table = model._meta.db_table
            for name in trigger_names(table, connection.vendor) if table in present else ():
                cursor.execute(
                    f'DROP TRIGGER "{name}"' + ("" if connection.vendor == "sqlite" else f' ON "{table}"')
                )
