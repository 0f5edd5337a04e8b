"""A test's committed rows are taken out of the tables that have any, the guards of signed rows down meanwhile.

Django's flush empties every table, and has content types, permissions and triggers made again after each test.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from django.apps import apps
from django.contrib.auth.models import Permission
from django.contrib.contenttypes.models import ContentType
from django.db import connection, transaction
from django.db.backends.utils import CursorWrapper
from django.db.migrations.recorder import MigrationRecorder

from shared.orm import triggers

MADE_BY_MIGRATE = {model._meta.db_table for model in (ContentType, Permission, MigrationRecorder.Migration)}


def empty() -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        filled = filled_tables(cursor)
        with unguarded(cursor, filled):
            for table in filled:
                cursor.execute(f'DELETE FROM "{table}"')
    if triggers.missing(connection):
        for app in apps.get_app_configs():
            triggers.install(app)


def filled_tables(cursor: CursorWrapper) -> list[str]:
    tables = connection.introspection.django_table_names(only_existing=True, include_views=False)
    each = [
        f"SELECT '{table}' WHERE EXISTS (SELECT 1 FROM \"{table}\")" for table in {*tables} - MADE_BY_MIGRATE
    ]
    cursor.execute(" UNION ALL ".join(each))
    return [table for (table,) in cursor.fetchall()]


@contextmanager
def unguarded(cursor: CursorWrapper, tables: list[str]) -> Iterator[None]:
    if connection.vendor == "sqlite":
        cursor.execute("SELECT name, tbl_name, sql FROM sqlite_master WHERE type = 'trigger'")
        standing = [(name, sql) for name, table, sql in cursor.fetchall() if table in tables]
        for name, _ in standing:
            cursor.execute(f'DROP TRIGGER "{name}"')
        yield
        for _, sql in standing:
            cursor.execute(sql)
    else:
        for table in tables:
            cursor.execute(f'ALTER TABLE "{table}" DISABLE TRIGGER USER')
        yield
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        for table in tables:
            cursor.execute(f'ALTER TABLE "{table}" ENABLE TRIGGER USER')
