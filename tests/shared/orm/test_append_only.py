"""What is signed cannot be changed, removed, replaced or emptied, on SQLite and on PostgreSQL."""

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from records.models import SigningKey
from shared.orm import triggers
from shared.orm.append_only import AppendOnlyError

TABLE = SigningKey._meta.db_table


@pytest.fixture
def key(firm) -> SigningKey:
    return SigningKey.objects.create(firm=firm, digest="sha256:" + "0" * 64, public=b"0" * 32)


def refused(statement) -> None:
    with pytest.raises(IntegrityError, match="never changed or removed"), transaction.atomic():
        statement()


def run(sql: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql)


def test_an_object_is_not_saved_again_nor_deleted(key):
    with pytest.raises(AppendOnlyError):
        key.save()
    with pytest.raises(AppendOnlyError):
        key.delete()


def test_the_database_refuses_update_and_delete(key):
    rows = SigningKey.across_firms.all()
    refused(lambda: rows.update(digest="x"))
    refused(lambda: rows._raw_delete("default"))
    refused(lambda: run(f"UPDATE {TABLE} SET digest = 'x'"))
    refused(lambda: run(f"DELETE FROM {TABLE}"))


def test_the_database_refuses_an_insert_in_place_of_a_row(key):
    def upsert() -> None:
        SigningKey.across_firms.bulk_create(
            [SigningKey(pk=key.pk, firm=key.firm, digest="x", public=b"")],
            update_conflicts=True,
            update_fields=["digest"],
            unique_fields=["uuid"],
        )

    refused(upsert)


def test_the_database_refuses_wholesale_replacement_and_emptying(key):
    if connection.vendor == "sqlite":
        columns = "uuid, firm_id, digest, public, made_at"
        by_key = "uuid, firm_id, 'x', public, made_at"
        refused(lambda: run(f"INSERT OR REPLACE INTO {TABLE} ({columns}) SELECT {by_key} FROM {TABLE}"))
        by_digest = "'f' || substr(uuid, 2), firm_id, digest, public, made_at"
        refused(lambda: run(f"INSERT OR REPLACE INTO {TABLE} ({columns}) SELECT {by_digest} FROM {TABLE}"))
    else:
        run("SET CONSTRAINTS ALL IMMEDIATE")
        refused(lambda: run(f"TRUNCATE {TABLE} CASCADE"))
    assert SigningKey.across_firms.get().digest == key.digest


@pytest.mark.django_db(transaction=True)
def test_triggers_that_a_remade_table_lost_come_back_with_the_next_migrate():
    if connection.vendor == "sqlite":
        with connection.schema_editor() as editor:
            editor._remake_table(SigningKey)
    lost = triggers.missing(connection)
    assert bool(lost) == (connection.vendor == "sqlite")
    assert len(triggers.check_triggers(databases=["default"])) == len(lost)
    call_command("migrate", verbosity=0)
    assert triggers.missing(connection) == []
    assert triggers.check_triggers(databases=["default"]) == []
