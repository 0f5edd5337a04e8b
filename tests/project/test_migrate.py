"""A database that lacks a trigger gets it by migrating, and is refused by nothing on the way."""

from django.core.management import call_command
from django.db import connection

from shared.orm.triggers import check_triggers
from tests.project.test_checks import safe  # noqa: F401 - a fixture


def triggers_on(table: str) -> list[str]:
    asked = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = %s",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE tgrelid = %s::regclass AND NOT tgisinternal",
    }
    with connection.cursor() as cursor:
        cursor.execute(asked[connection.vendor], [table])
        return sorted(name for (name,) in cursor.fetchall())


def test_a_release_with_a_new_trigger_migrates_a_database_from_before(transactional_db):
    table = "records_treatment"
    before = triggers_on(table)
    assert before
    on = f" ON {table}" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        cursor.execute(f'DROP TRIGGER "{before[0]}"{on}')
    assert check_triggers(databases=["default"])
    call_command("migrate", verbosity=0, skip_checks=False)
    assert triggers_on(table) == before
    assert check_triggers(databases=["default"]) == []
