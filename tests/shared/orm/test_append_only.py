"""What is signed cannot be changed, removed, replaced or emptied, on SQLite and on PostgreSQL."""

from collections.abc import Iterator
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from records.models import SignedRecord, SigningKey, Treatment
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


@pytest.fixture
def as_another_program() -> Iterator[None]:
    """Rows that are replaced fire no triggers of removal: so SQLite opens a file by default."""
    if connection.vendor == "sqlite":
        run("PRAGMA recursive_triggers=OFF")
    yield
    if connection.vendor == "sqlite":
        run("PRAGMA recursive_triggers=ON")


RECORD, TREATMENT = SignedRecord._meta.db_table, Treatment._meta.db_table


def anew(table: str, **changed: str) -> None:
    """Put each row of a table in again, with these columns changed, in the place of what has the same key."""
    with connection.cursor() as cursor:
        names = [column.name for column in connection.introspection.get_table_description(cursor, table)]
    values = ", ".join(changed.get(name, name) for name in names)
    replace = "INSERT OR REPLACE" if connection.vendor == "sqlite" else "INSERT"
    run(f"{replace} INTO {table} ({', '.join(names)}) SELECT {values} FROM {table}")


def not_done(statement) -> None:
    """Refused at once, by trigger, key or foreign key."""
    with pytest.raises(IntegrityError), transaction.atomic():
        if connection.vendor == "postgresql":
            run("SET CONSTRAINTS ALL IMMEDIATE")
        statement()


def new_id() -> str:
    return f"'{uuid4().hex}'"


def test_no_unique_key_lets_a_signed_row_be_replaced(two_firms, as_another_program):
    before = sorted(SignedRecord.across_firms.values_list("pk", "digest"))
    not_done(lambda: anew(RECORD))
    not_done(lambda: anew(RECORD, uuid=new_id()))
    not_done(lambda: anew(RECORD, uuid=new_id(), digest="'of another record'"))
    not_done(lambda: anew(RECORD, uuid=new_id(), version="version + 1"))
    assert sorted(SignedRecord.across_firms.values_list("pk", "digest")) == before


def test_a_treatment_of_which_something_is_signed_is_not_taken_away(two_firms, as_another_program):
    before = sorted(Treatment.across_firms.values_list("pk", "number"))
    signed = Treatment.objects.for_firm(two_firms[0]).get()
    Treatment.objects.create(
        firm=signed.firm, site=signed.site, number="draft", planned_at=signed.planned_at,
        planned_by=signed.planned_by, day=signed.day,
    )  # fmt: skip
    not_done(lambda: run(f"DELETE FROM {TREATMENT} WHERE number <> 'draft'"))
    not_done(lambda: run(f"UPDATE {TREATMENT} SET uuid = {new_id()} WHERE number <> 'draft'"))
    not_done(lambda: anew(TREATMENT))
    not_done(lambda: anew(TREATMENT, uuid=new_id()))
    replace = "UPDATE OR REPLACE" if connection.vendor == "sqlite" else "UPDATE"
    not_done(lambda: run(f"{replace} {TREATMENT} SET number = '{signed.number}' WHERE number = 'draft'"))
    run(f"DELETE FROM {TREATMENT} WHERE number = 'draft'")
    assert sorted(Treatment.across_firms.values_list("pk", "number")) == before


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
