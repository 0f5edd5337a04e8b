"""Triggers by which SQLite and PostgreSQL refuse to change, remove or replace an append-only row, and SQLite
to remove the row that it holds on to. A model's `shrinks` is the one change that is let through.

SQLite drops a table's triggers when Django remakes the table for a migration, so they are put back after
every migrate. They are the guard rail, not the evidence: who holds the database file can drop them.
"""

from collections.abc import Mapping
from typing import Any

from django.apps import AppConfig, apps
from django.core import checks
from django.db import DEFAULT_DB_ALIAS, connections, models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

from shared.orm.kept_columns import kept_columns
from shared.orm.shrinking import let_shrink, unless_it_shrinks

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
    """Names of the triggers that must stand on an append-only table itself."""
    events = ("change", "removal", "replacement") if vendor == "sqlite" else ("change", "truncation")
    return [f"{table}_refuses_{event}" for event in events]


def _places(model: type[models.Model], vendor: str) -> dict[str, str]:
    """All triggers that must stand for an append-only model, by name, with the table that each stands on."""
    table = model._meta.db_table
    own = dict.fromkeys(trigger_names(table, vendor), table)
    events = ("removal", "replacement", "change") if vendor == "sqlite" else ()
    held = {
        f"{table}_holds_{field.column}_{event}": field.related_model._meta.db_table
        for field in _held(model)
        for event in events
    }
    return own | held | {each.name: each.table for each in kept_columns(model)}


def _held(model: type[models.Model]) -> list[Any]:
    """The foreign keys to rows that stay while a row of this model points to them."""
    return [model._meta.get_field(name) for name in model.holds]  # type: ignore[attr-defined]


def _same_key(model: type[models.Model], row: str) -> str:
    """An SQL condition: `row` has a key of NEW, so that an INSERT OR REPLACE would take it away."""
    single = [[field] for field in model._meta.concrete_fields if field.unique]
    several = [
        [model._meta.get_field(name) for name in constraint.fields]
        for constraint in model._meta.total_unique_constraints
    ]
    keys = [
        " AND ".join(f'{row}."{field.column}" = NEW."{field.column}"' for field in fields)
        for fields in (*single, *several)
    ]
    return " OR ".join(f"({key})" for key in keys)


def _sqlite(model: type[models.Model]) -> list[str]:
    """PRAGMA recursive_triggers and foreign_keys belong to a connection: nothing here trusts in either."""
    table = model._meta.db_table
    taken = f'EXISTS (SELECT 1 FROM "{table}" AS kept WHERE {_same_key(model, "kept")})'  # noqa: S608 - our names
    rules = [("UPDATE", table, unless_it_shrinks(model)), ("DELETE", table, "TRUE"), ("INSERT", table, taken)]
    rules += [rule for field in _held(model) for rule in _holding(table, field)]
    rules += [("UPDATE", each.table, each.condition("IS NOT")) for each in kept_columns(model)]
    return [
        f'CREATE TRIGGER "{name}" BEFORE {event} ON "{on}" WHEN {condition} '
        f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
        for name, (event, on, condition) in zip(_places(model, "sqlite"), rules, strict=True)
    ]


def _holding(table: str, field: Any) -> list[tuple[str, str, str]]:
    """Event, table and condition by which the row that `field` of `table` points to is kept."""
    parent, key = field.related_model._meta.db_table, field.related_model._meta.pk.column

    def held(row: str) -> str:
        return f'EXISTS (SELECT 1 FROM "{table}" AS child WHERE child."{field.column}" = {row}."{key}")'  # noqa: S608

    def replaced(unless: str = "TRUE") -> str:
        same = _same_key(field.related_model, "kept")
        return f'EXISTS (SELECT 1 FROM "{parent}" AS kept WHERE ({same}) AND {unless} AND {held("kept")})'  # noqa: S608

    rekeyed = f'OLD."{key}" <> NEW."{key}" AND {held("OLD")}'
    other = replaced(unless=f'kept."{key}" <> OLD."{key}"')
    return [
        ("DELETE", parent, held("OLD")),
        ("INSERT", parent, replaced()),
        ("UPDATE", parent, f"({rekeyed}) OR {other}"),
    ]


def _postgresql(model: type[models.Model]) -> list[str]:
    """What an append-only row points to is held by its foreign key, which no session can switch off."""
    table, shrinks = model._meta.db_table, model.shrinks  # type: ignore[attr-defined]
    change, truncation = trigger_names(table, "postgresql")
    function = f"{table}_may_shrink" if shrinks else "refuse_change"
    return [
        POSTGRESQL_FUNCTION,
        *([let_shrink(function, model, REFUSAL)] if shrinks else []),
        f'CREATE TRIGGER "{change}" BEFORE UPDATE OR DELETE ON "{table}" '
        f'FOR EACH ROW EXECUTE FUNCTION "{function}"()',
        f'CREATE TRIGGER "{truncation}" BEFORE TRUNCATE ON "{table}" '
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
        *(statement for each in kept_columns(model) for statement in each.on_postgresql(REFUSAL)),
    ]


def install(sender: AppConfig, using: str = DEFAULT_DB_ALIAS, **kwargs: Any) -> None:
    """Put the triggers of one app's models up anew; a receiver of `post_migrate`."""
    connection = connections[using]
    statements = _sqlite if connection.vendor == "sqlite" else _postgresql
    with transaction.atomic(using), connection.cursor() as cursor:
        for model in _present(connection, sender.label):
            _drop(connection, _places(model, connection.vendor))
            for sql in statements(model):
                cursor.execute(sql)


def make_way(using: str = DEFAULT_DB_ALIAS, **kwargs: Any) -> None:
    """Take down, before a migration, the triggers that name two tables: SQLite remakes neither under them.

    A receiver of `pre_migrate`; `install` puts them back.
    """
    connection = connections[using]
    if connection.vendor == "sqlite":
        for model in _present(connection):
            names = _places(model, "sqlite")
            shrinks = getattr(model, "shrinks", None)
            two_tables = {name: on for name, on in names.items() if shrinks or on != model._meta.db_table}
            _drop(connection, two_tables)


def _present(connection: BaseDatabaseWrapper, app_label: str | None = None) -> list[type[models.Model]]:
    tables = set(connection.introspection.table_names())
    return [model for model in append_only_tables(app_label) if model._meta.db_table in tables]


def _drop(connection: BaseDatabaseWrapper, names: Mapping[str, str]) -> None:
    with connection.cursor() as cursor:
        for name, table in names.items():
            on = "" if connection.vendor == "sqlite" else f' ON "{table}"'
            cursor.execute(f'DROP TRIGGER IF EXISTS "{name}"{on}')


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
    wanted = [name for model in _present(connection) for name in _places(model, connection.vendor)]
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
    for model in _present(connection):
        _drop(connection, _places(model, connection.vendor))
