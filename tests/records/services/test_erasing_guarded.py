"""The database lets go what an erasure names after its term, and nothing else."""

import pytest
from django.db import IntegrityError, connection, transaction

from records.services.holds import hold, lift
from records.services.planning import plan_treatment
from shared.orm import triggers
from tests.records.logged import sign_now
from tests.records.services.erasing import SET_LINES, UNTIL, lines_without, versions, witness


def refused(sql: str, *values: object) -> None:
    with (
        pytest.raises(IntegrityError, match="never changed or removed"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(sql, values)


def test_the_database_takes_no_erasure_within_its_own_term(signed):
    with pytest.raises(IntegrityError), transaction.atomic():
        witness(signed, on=UNTIL)


def test_by_an_erasure_within_its_term_the_database_lets_nothing_go_even_if_it_was_taken(signed):
    with connection.cursor() as cursor:
        cursor.execute(
            "PRAGMA ignore_check_constraints = ON"
            if connection.vendor == "sqlite"
            else "ALTER TABLE records_erasure DROP CONSTRAINT nothing_is_erased_within_its_term"
        )
        witness(signed, on=UNTIL)
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA ignore_check_constraints = OFF")
    refused(f"{SET_LINES} WHERE version = 1", lines_without(signed, "customer", "site"))


def test_the_database_lets_no_section_go_that_no_erasure_names(signed):
    sql = f"{SET_LINES} WHERE version = 1"
    refused(sql, lines_without(signed, "customer", "site"))
    witness(signed)
    refused(sql, lines_without(signed, "mixes"))
    refused(sql, lines_without(signed, "customer", "site", "mixes"))
    with connection.cursor() as cursor:
        cursor.execute(sql, [lines_without(signed, "customer", "site")])
    assert {"customer", "site"}.isdisjoint(versions(signed)[0].sections)


@pytest.mark.parametrize(
    "change",
    [
        lambda lines: lines.replace(b"moss", b"mosS", 1),
        lambda lines: lines.replace(b'["notes"', b'[ "notes"', 1),
        lambda lines: lines + b"\n",
        lambda lines: lines + b'\n["zeal","00",1]',
        lambda lines: b"\n".join(lines.split(b"\n")[::-1]),
        lambda lines: lines + b"\n" + lines.split(b"\n")[0],
        lambda lines: b"",
    ],
)
def test_the_database_lets_no_section_change_even_while_others_go(signed, change):
    witness(signed)
    kept = lines_without(signed, "customer", "site")
    assert change(kept) != kept
    refused(f"{SET_LINES} WHERE version = 1", change(kept))


@pytest.mark.parametrize("column", ["digest", "reason", "document_digest", "kind"])
def test_no_other_column_changes_with_an_erasure_either(signed, column):
    witness(signed)
    refused(f"UPDATE records_signedrecord SET {column} = 'x' WHERE version = 1")
    refused("DELETE FROM records_signedrecord WHERE version = 1")


def test_an_erasure_of_one_treatment_lets_nothing_go_of_another(signed, plan, member):
    other = plan_treatment(signed.firm, member.user, plan)
    sign_now(other, member)
    witness(other)
    refused(
        f"{SET_LINES} WHERE treatment_id = %s AND version = 1",
        lines_without(signed, "customer", "site"),
        signed.pk.hex if connection.vendor == "sqlite" else signed.pk,
    )


def test_an_erasure_and_a_hold_are_themselves_append_only(signed, colleague):
    hold(signed, "a claim", colleague.user)
    lift(signed, "settled", colleague.user)
    witness(signed)
    for table in ("erasure", "legalhold", "holdlifted"):
        refused(f"UPDATE records_{table} SET by_id = NULL")
        refused(f"DELETE FROM records_{table}")


def test_the_triggers_of_shrinking_rows_stand(db):
    assert triggers.missing(connection) == []
