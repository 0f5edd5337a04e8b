"""What was signed before sections were kept as lines is carried over byte for byte, and still holds."""

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.migrations.executor import MigrationExecutor

from records.log_check import look_at_log
from records.models import SignedRecord
from shared.orm import triggers

pytestmark = pytest.mark.django_db(transaction=True)


def migrated_to(name: str):
    executor = MigrationExecutor(connection)
    executor.migrate([("records", name)])
    return executor.loader.project_state(("records", name)).apps


@pytest.mark.long
def test_sections_go_over_to_lines_and_back_and_the_log_holds(logged, firm):
    rows = SignedRecord.objects.for_firm(firm).order_by("version")
    before = [(bytes(row.section_lines), row.sections, row.salts) for row in rows]
    triggers.remove(connection)
    newest = MigrationExecutor(connection).loader.graph.leaf_nodes("records")[0][1]
    then = migrated_to("0010_audit").get_model("records", "SignedRecord")
    kept = then.across_firms.order_by("version")
    assert [(row.sections, row.salts) for row in kept] == [(part, salts) for _lines, part, salts in before]
    migrated_to(newest)
    for app in ("records", "compliance"):
        triggers.install(sender=type("App", (), {"label": app}))
    assert [bytes(row.section_lines) for row in rows.all()] == [lines for lines, *_ in before]
    assert look_at_log(firm).broken == []
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        rows.update(section_lines=b"")
