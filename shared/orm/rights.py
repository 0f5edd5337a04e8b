"""The rights of the role by which the service itself uses a PostgreSQL database that another role owns.

The triggers refuse a change of what is append-only, but whoever owns a table can drop its triggers. A role that
owns nothing and was granted nothing of the kind can't: it may read and add, and nothing else.
"""

from django.apps import apps
from django.db import models
from django.db.backends.base.base import BaseDatabaseWrapper

from shared.orm.triggers import append_only_tables


def grants(connection: BaseDatabaseWrapper, role: str) -> list[str]:
    """SQL, to be run as the owner: `role` may use every table, and of those that are append-only may change
    only the columns that a row's `shrinks` names, where the trigger asks for the witness."""
    quoted = connection.ops.quote_name(role)
    protected = append_only_tables()
    there = set(connection.introspection.table_names())
    tables = [model for model in apps.get_models(include_auto_created=True) if model._meta.db_table in there]
    statements = [
        "REVOKE CREATE ON SCHEMA public FROM PUBLIC",
        f"REVOKE ALL ON SCHEMA public FROM {quoted}",
        f"REVOKE ALL ON ALL TABLES IN SCHEMA public FROM {quoted}",
        f"GRANT USAGE ON SCHEMA public TO {quoted}",
        f"GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO {quoted}",
    ]
    for model in tables:
        statements += _of_table(connection, model, quoted, model in protected)
    others = sorted(there - {model._meta.db_table for model in tables})
    return [*statements, *(_used(connection.ops.quote_name(table), quoted) for table in others)]


def _of_table(
    connection: BaseDatabaseWrapper, model: type[models.Model], quoted: str, protected: bool
) -> list[str]:
    table = connection.ops.quote_name(model._meta.db_table)
    if not protected:
        return [_used(table, quoted)]
    columns = ", ".join(connection.ops.quote_name(name) for name in _shrinking_columns(model))
    granted = [f"GRANT SELECT, INSERT ON {table} TO {quoted}"]
    return [*granted, f"GRANT UPDATE ({columns}) ON {table} TO {quoted}"] if columns else granted


def _used(table: str, quoted: str) -> str:
    return f"GRANT SELECT, INSERT, UPDATE, DELETE ON {table} TO {quoted}"


def _shrinking_columns(model: type[models.Model]) -> list[str]:
    shrinks = model.shrinks  # type: ignore[attr-defined]
    names = (*shrinks.members, *shrinks.lines, *shrinks.emptied) if shrinks else ()
    return [model._meta.get_field(name).column for name in names]
