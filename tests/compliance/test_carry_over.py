"""Policies as firms once had them become versions of their own rules, from the moments of their past on."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from importlib import import_module
from types import SimpleNamespace
from typing import Any
from uuid import uuid4

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from compliance.models import OwnRules
from compliance.services.own_rules import in_use, pack_in_use
from tests.factories import FirmFactory

pytestmark = pytest.mark.django_db(transaction=True)
SPRING, SUMMER = datetime(2026, 4, 1, 12, tzinfo=UTC), datetime(2026, 7, 1, 12, tzinfo=UTC)


@pytest.fixture
def then() -> Iterator[Any]:
    """The models of that time, with the tables that are gone now."""
    apps = MigrationExecutor(connection).loader.project_state(("compliance", "0005_own_rules")).apps
    gone = [apps.get_model("compliance", name) for name in ("FirmPolicy", "HistoricalFirmPolicy")]
    with connection.schema_editor() as editor:
        for model in gone:
            editor.create_model(model)
    yield apps
    with connection.schema_editor() as editor:
        for model in reversed(gone):
            editor.delete_model(model)


def write(apps: Any, firm: Any, moment: datetime, uuid: Any, kind: str, **values: Any) -> None:
    """A policy of the firm with one past state."""
    values = {"title": "Calm only", "required": True, "in_force_from": date(2026, 4, 1), **values}
    past = apps.get_model("compliance", "HistoricalFirmPolicy").across_firms
    past.create(firm_id=firm.pk, uuid=uuid, history_date=moment, history_type=kind, **values)
    apps.get_model("compliance", "FirmPolicy").across_firms.update_or_create(
        uuid=uuid, defaults={"firm_id": firm.pk, **values}
    )


def test_every_past_state_is_a_version_in_use_from_its_moment(then):
    firm, wind, rest = FirmFactory(), uuid4(), uuid4()
    nine = [{"of": "wind_speed", "max": {"value": "9", "unit": "mph"}}]
    write(then, firm, SPRING, wind, "+", limits=[{"of": "wind_speed", "max": {"value": "10", "unit": "mph"}}])
    write(then, firm, SUMMER, wind, "~", limits=nine, until=date(2027, 1, 1))
    between = [{"of": "days_between", "min": {"value": "30", "unit": "day"}}]
    write(then, firm, SUMMER, rest, "+", limits=between, title="Rest", required=False)
    migration = import_module("compliance.migrations.0006_carry_policies_over")
    migration.carry_over(then, SimpleNamespace(connection=connection))
    assert [version.version for version in OwnRules.objects.for_firm(firm)] == [3, 2, 1]
    pack = pack_in_use(firm)
    assert pack is not None
    assert [(rule.id, rule.title.en, rule.level, rule.all_duties[0].kind.name) for rule in pack.rules] == [
        ("firm/1", "Calm only", "required", "limit"),
        ("firm/2", "Rest", "advised", "interval"),
    ]
    assert pack.rules[0].span.until == date(2027, 1, 1)
    in_spring = in_use(firm, SPRING)
    assert in_spring and in_spring.version.own[0].params == {"quantity": "wind_speed", "max": "10 mph"}
