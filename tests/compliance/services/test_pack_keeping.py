"""Every pack that is used is kept whole, with the days on which it was in use."""

from datetime import date, datetime

import pytest
import time_machine
from django.core.checks import run_checks
from django.core.management import call_command
from django.db import DatabaseError, transaction

from compliance.models import PacksInUse, PackVersion
from compliance.pack_archive import restore
from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import Pack
from compliance.services.pack_keeping import NoPacksKeptError, note_packs_in_use, packs_in_use_on
from tests.compliance.rulebook.builders import WIND, pack, rule

ZONE = "America/Los_Angeles"


def limit(most: str, version: str) -> Pack:
    return pack(rule(**{**WIND, "max": most}), version=version)


def clashes() -> list[tuple[str, str]]:
    found = run_checks(databases=["default"], tags=["database"])
    return [(error.id, error.hint) for error in found]


def test_the_registered_packs_are_kept_whole_and_once(db):
    assert note_packs_in_use() == len(registered_packs())
    assert note_packs_in_use() == 0
    kept = {row.pack: restore(row.as_kept()) for row in PackVersion.objects.all()}
    assert {name: one.digest for name, one in kept.items()} == {
        one.id: one.digest for one in registered_packs()
    }
    assert PacksInUse.objects.count() == 1


def test_each_day_has_the_packs_that_were_in_use_at_its_end(db, install):
    first, second = limit("10 mph", "1"), limit("8 mph", "2")
    for moment, packs in (
        ("2026-05-01T12:00:00-07:00", [first]),
        ("2026-06-01T23:30:00-07:00", [second]),
        ("2026-07-01T12:00:00-07:00", [first]),
    ):
        install(*packs)
        with time_machine.travel(datetime.fromisoformat(moment), tick=False):
            note_packs_in_use()
    days = ("2026-05-01", "2026-05-31", "2026-06-01", "2026-06-30", "2026-07-01")
    versions = [packs_in_use_on(date.fromisoformat(day), ZONE)[0].version for day in days]
    assert versions == ["1", "1", "2", "2", "1"]
    assert PackVersion.objects.count() == 2
    with pytest.raises(NoPacksKeptError) as refused:
        packs_in_use_on(date(2026, 4, 30), ZONE)
    assert refused.value.first == date(2026, 5, 1)


def test_a_changed_pack_under_its_old_version_is_refused_by_a_system_check(db, install):
    install(limit("10 mph", "1"))
    note_packs_in_use()
    assert clashes() == []
    install(limit("8 mph", "1"))
    assert clashes() == [("compliance.E001", "Raise `version` in the pack.yaml of xx.")]
    install(limit("8 mph", "2"))
    assert clashes() == []


def test_a_kept_pack_is_never_changed(db):
    note_packs_in_use()
    for rows in (PackVersion.objects, PacksInUse.objects):
        for change in (rows.all().delete, lambda rows=rows: rows.update(**{rows.model._meta.pk.name: "1"})):
            with pytest.raises(DatabaseError), transaction.atomic():
                change()


def test_the_command_keeps_the_installed_packs(db, capsys):
    call_command("keep_packs")
    assert capsys.readouterr().out.startswith(str(len(registered_packs())))
    assert PackVersion.objects.count() == len(registered_packs())
