"""The role that the service runs as adds what is signed, and can neither change nor remove it: on PostgreSQL it
has no such right, on SQLite, which has no roles, the triggers refuse."""

from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from records.log_check import look_at_log
from records.models import SignedRecord
from records.services.corrections import start_correction
from records.services.erasing import erase
from records.services.holds import hold, lift
from shared import clock
from shared.orm import triggers
from shared.orm.triggers import append_only_tables
from tests.records.logged import sign_now

POSTGRESQL = connection.vendor == "postgresql"
REFUSED = "permission denied" if POSTGRESQL else "never changed or removed"


@pytest.fixture
def signed(done, member) -> SignedRecord:
    return sign_now(done, member)


@pytest.fixture
def limited(signed, colleague) -> Iterator[None]:
    """As the service's own role, with something in each table that matters."""
    hold(signed.treatment, "a claim", colleague.user)
    lift(signed.treatment, "settled", colleague.user)
    role = f"service_of_{connection.settings_dict['NAME']}"
    if not POSTGRESQL:
        yield
        return
    with connection.cursor() as cursor:
        cursor.execute(f'CREATE ROLE "{role}"')
        cursor.execute(f'GRANT "{role}" TO CURRENT_USER')
        call_command("limit_rights", role, verbosity=0)
        cursor.execute(f'SET ROLE "{role}"')
        yield
        cursor.execute("RESET ROLE")


def refused(statement: str, words: str = REFUSED) -> None:
    with pytest.raises(DatabaseError, match=words), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


@pytest.mark.parametrize(
    "name", ["signedrecord", "logentry", "lognode", "treehead", "auditentry", "signingkey"]
)
def test_what_is_signed_logged_and_noted_is_neither_changed_nor_removed(limited, member, done, name):
    if name == "lognode":
        sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    table = f"records_{name}"
    column = {"auditentry": "by_name", "signedrecord": "reason"}.get(name, "firm_id")
    refused(f"UPDATE {table} SET {column} = {column}")
    refused(f"DELETE FROM {table}")
    if POSTGRESQL:
        refused(f"TRUNCATE {table} CASCADE")
        refused(f"DROP TRIGGER {table}_refuses_change ON {table}", "must be owner")
        refused(f"ALTER TABLE {table} DISABLE TRIGGER ALL", "must be owner")


def test_sections_go_by_an_erasure_alone(limited):
    refused("UPDATE records_signedrecord SET section_lines = record", "never changed or removed")


def test_signing_correcting_and_erasing_go_on(limited, done, member):
    sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    done.refresh_from_db()
    with clock.at(datetime(2028, 9, 15, 20, tzinfo=UTC)):
        erase(done, date(2028, 9, 14), ["us-wa/retention/seven-years"], date(2028, 9, 15))
    versions = SignedRecord.objects.for_firm(done.firm)
    assert ["customer" in version.sections for version in versions] == [False, False]
    assert look_at_log(done.firm).broken == []


def test_every_append_only_table_is_out_of_reach_and_every_other_is_not(limited):
    tables = {model._meta.db_table for model in append_only_tables()}
    assert {"records_signedrecord", "records_auditentry", "compliance_storedcheck"} <= tables
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names() if POSTGRESQL else ():
            for right in ("DELETE", "TRUNCATE", "TRIGGER"):
                cursor.execute("SELECT has_table_privilege(%s, %s)", [f'"{table}"', right])
                may = right == "DELETE" and table not in tables
                assert cursor.fetchone() == (may,), (table, right)
    assert triggers.missing(connection) == []


@pytest.mark.parametrize("role", ["nobody-at-all", connection.settings_dict["USER"] or "x"])
def test_a_role_that_cannot_be_limited_is_refused_in_a_sentence(db, capsys, role):
    with pytest.raises(SystemExit) as ended:
        call_command("limit_rights", role)
    assert ended.value.code == 2
    said = capsys.readouterr().err
    assert (
        ("There is no role" in said or "owns tables" in said) if POSTGRESQL else "SQLite has no roles" in said
    )
