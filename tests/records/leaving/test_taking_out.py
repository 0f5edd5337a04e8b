"""A firm leaves with everything, and goes on in an empty service with the same log."""

import csv
import hashlib
import io
import json
import re
import shutil
from pathlib import Path
from typing import NamedTuple
from uuid import uuid4
from zipfile import ZipFile

import pytest
from django.apps import apps
from django.conf import settings as django_settings
from django.core import serializers
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader

from records.leaving.loading import load
from records.leaving.tables import OF_AN_ACCOUNT, tables
from records.leaving.values import json_line
from records.log_check import look_at_log
from records.models import AuditEntry, Firm, Photo, SignedRecord, TreeHead, User
from records.services.key_changes import replace_lost_key
from records.services.photo_store import original
from shared.merkle import GrowingTree
from shared.orm import triggers
from shared.tenancy import FirmManager
from tests.emptying import empty
from tests.factories import FirmFactory, MembershipFactory, SiteFactory
from tests.furnished import furnish
from tests.records.backup.test_backup_and_restore import (
    PICTURE,
    manifest_of,
    photo,  # noqa: F401 - a fixture
    refused,
    rewritten,
    var,  # noqa: F401 - a fixture
    with_manifest,
)

SECRET_SOUNDING = re.compile("secret|token|password|private|hash|salt")
BEFORE = (("compliance", "0014_requests"), ("records", "0032_what_notices_state"))
"""What an older version of the program ended with."""
LOOKED_AT = {
    "records.headtimestamp.token": "what the time-stamp authority answered, public",
    "records.lognode.hash": "of the log, in every bundle",
    "records.notice.token": "the address on a notice that went out: it must lead somewhere after the move",
    "records.proofaddress.token": "the address on a record's paper, as well",
}
"""Columns that leave although their names sound like a secret's, and why."""


class Left(NamedTuple):
    """What a firm took along, and what it was before it left."""

    file: Path
    firm: Firm
    user: User
    rows: dict[str, list]
    root: str
    documents: set[str]
    secrets: list[bytes]
    noted: AuditEntry


@pytest.fixture(scope="module")
def kept(tmp_path_factory) -> dict[str, Left]:
    return {}


@pytest.fixture
def left(kept, var, settings, request, tmp_path_factory, capsys) -> Left:  # noqa: F811
    """A firm whose log holds has left an empty service behind; made once, for nothing changes the file."""
    if not kept:
        member = request.getfixturevalue("member")
        request.getfixturevalue("photo")
        User.objects.filter(pk=member.user_id).update(is_superuser=True)
        SiteFactory(firm=member.firm, name='=HYPERLINK("x")')
        SiteFactory(firm=FirmFactory(name="Other Firm"), name="Somebody Else's Yard")
        kept["one"] = leave(member, tmp_path_factory.mktemp("left") / "firm.zip", capsys)
        emptied(settings)
    return kept["one"]


def leave(member, file: Path, capsys) -> Left:
    firm = member.firm
    call_command("take_out", str(firm.pk), str(file))
    capsys.readouterr()
    keys = [path.read_bytes() for path in Path(django_settings.KEY_DIR).glob("*")]
    head = TreeHead.objects.for_firm(firm).first()
    versions = SignedRecord.objects.for_firm(firm).values_list("treatment__number", "version")
    return Left(
        file,
        firm,
        member.user,
        rows_of(firm),
        head.head.get("root", ""),
        {f"records/{number}-v{version}.json" for number, version in versions},
        [*keys, member.user.password.encode()],
        AuditEntry.objects.for_firm(firm).filter(kind="exported").first(),
    )


def emptied(settings) -> None:
    """An empty service, as after `manage.py migrate`."""
    empty()
    for folder in (settings.FILES_DIR, settings.KEY_DIR):
        shutil.rmtree(folder, ignore_errors=True)


def rows_of(firm: Firm) -> dict[str, list]:
    return {
        table.label: json.loads(serializers.serialize("json", table.rows(firm)))
        for table in tables()
        if not table.of_every_firm
    }


def lines(file: Path, name: str) -> list[dict]:
    with ZipFile(file) as archive:
        return [json.loads(line) for line in archive.read(name).splitlines()]


def test_in_an_empty_service_all_is_there_again_with_the_same_root(left, settings, capsys):
    call_command("restore", str(left.file))
    said = capsys.readouterr()
    assert f"{left.firm.name}: 7 entries, root {left.root}\nAll logs hold." in said.out
    assert "can't sign: the private half of its key is not here" in said.err
    assert rows_of(left.firm) == left.rows
    assert original(Photo.objects.for_firm(left.firm).get()).read_bytes() == PICTURE
    assert [firm.name for firm in Firm.across_firms.all()] == [left.firm.name]
    assert triggers.missing(connection) == []
    with pytest.raises(SystemExit) as ended:
        call_command("verify_log")
    assert ended.value.code == 0


def test_it_goes_on_with_a_new_key_that_says_that_the_old_one_did_not_sign(left):
    call_command("restore", str(left.file))
    replace_lost_key(left.firm)
    looked = look_at_log(left.firm)
    assert (looked.entries, looked.broken, [change.lost for change in looked.key_changes]) == (8, [], [True])
    assert SiteFactory(firm=left.firm).pk


def test_accounts_come_without_password_and_without_right_over_the_machine(left):
    account = [
        line for line in lines(left.file, "rows/records.user.jsonl") if line["uuid"] == str(left.user.pk)
    ]
    assert [set(line) for line in account] == [set(OF_AN_ACCOUNT)]
    call_command("restore", str(left.file))
    user = User.objects.get(pk=left.user.pk)
    assert (user.has_usable_password(), user.is_superuser, user.name) == (False, False, left.user.name)
    assert set(user.roles) == {left.firm.pk}


def test_no_other_firm_no_private_key_and_no_password_is_in_it(left):
    assert len(left.secrets) > 1
    with ZipFile(left.file) as archive:
        for data in map(archive.read, archive.namelist()):
            assert not any(secret in data for secret in [*left.secrets, b"Somebody Else"])


def test_the_root_can_be_worked_out_from_the_file_alone(left):
    tree = GrowingTree()
    for line in lines(left.file, "log/entries.jsonl"):
        leaf = hashlib.sha256(b"\0" + line["signed"].encode()).digest()
        assert leaf.hex() == line["leaf"]
        tree.add(leaf)
    assert f"sha256:{tree.root.hex()}" == left.root
    assert lines(left.file, "log/heads.jsonl")[-1]["head"]["root"] == left.root


def test_each_signed_version_is_a_document_of_its_own(left):
    with ZipFile(left.file) as archive:
        names = {name for name in archive.namelist() if name.startswith("records/")}
    assert names == left.documents
    assert all(lines(left.file, name)[0]["schema"] == "record-file/1" for name in names)


def test_tables_for_people_have_no_live_formula_and_each_column_has_its_meaning(left):
    with ZipFile(left.file) as archive:
        texts = {name: archive.read(name).decode("utf-8-sig") for name in archive.namelist() if ".csv" in name}
    sites = list(csv.DictReader(io.StringIO(texts["tables/records.site.csv"])))
    assert '\'=HYPERLINK("x")' in [site["name"] for site in sites]
    meant = list(csv.DictReader(io.StringIO(texts.pop("tables/dictionary.csv"))))
    columns = {(row["table"], row["column"]) for row in meant if row["in the CSV"] == "yes"}
    heads = {name[7:-4]: next(csv.reader(io.StringIO(text))) for name, text in texts.items()}
    assert columns == {(table, column) for table, head in heads.items() for column in head}


def test_every_table_of_a_firm_leaves_or_says_why_it_stays():
    of_firms = {
        model
        for model in apps.get_models()
        if isinstance(getattr(model, "objects", None), FirmManager) or hasattr(model, "of_every_firm")
    }
    staying = {model for model in of_firms if getattr(model, "stays_here", "")}
    assert {table.model for table in tables()} == of_firms - staying


def test_what_a_table_that_leaves_points_to_leaves_too():
    leaving = {table.model for table in tables()} | {User}
    left_behind = [
        f"{table.label}.{field.name}"
        for table in tables()
        for field in table.fields
        if field.is_relation and field.related_model not in leaving
    ]
    assert left_behind == []
    assert [table.label for table in tables() if table.model._meta.many_to_many] == []


def test_no_column_that_sounds_like_a_secret_leaves_unlooked_at():
    sounding = {
        f"{table.label}.{field.name}"
        for table in tables()
        for field in table.fields
        if SECRET_SOUNDING.search(field.name)
    }
    assert sounding == set(LOOKED_AT)


def test_a_row_of_every_model_comes_back_as_it_was(var, settings, tmp_path, capsys):  # noqa: F811
    member = MembershipFactory(role="manager")
    furnish(member)
    furnished = leave(member, tmp_path / "furnished.zip", capsys)
    past = "historical"
    assert [label for label, rows in furnished.rows.items() if not rows and past not in label] == []
    emptied(settings)
    with ZipFile(furnished.file) as packed, transaction.atomic():
        load(packed, manifest_of(furnished.file), apps)
    assert rows_of(member.firm) == furnished.rows


def test_it_is_noted_as_taken_out(left):
    assert (left.noted.thing, left.noted.reason) == ("records.firm", "way-out")


def test_where_somebody_is_already_nothing_is_put_in(left, capsys):
    FirmFactory(name="Here already")
    assert "an empty service alone" in refused(capsys, "restore", str(left.file))
    assert Firm.across_firms.count() == 1


@pytest.mark.parametrize("new", [b'"customer_id":"0', b'"no_such_column":"'])
def test_rows_that_are_no_rows_are_refused_and_nothing_stays(left, new, settings, tmp_path, capsys):
    changed = forged(left.file, tmp_path / "x.zip", "rows/records.site.jsonl", b'"customer_id":"', new)
    assert "a row in rows/records.site.jsonl can't be read" in refused(capsys, "restore", str(changed))
    assert nothing_stayed(settings)


def test_rows_without_those_that_they_point_to_are_refused(left, settings, tmp_path, capsys):
    changed = forged(left.file, tmp_path / "x.zip", "rows/records.customer.jsonl", None, b"")
    assert "do not fit together" in refused(capsys, "restore", str(changed))
    assert nothing_stayed(settings)


def test_a_firm_with_rows_of_another_is_refused(left, settings, tmp_path, capsys):
    other = f'"firm_id":"{uuid4()}"'.encode()
    ours = f'"firm_id":"{left.firm.pk}"'.encode()
    changed = forged(left.file, tmp_path / "x.zip", "rows/records.customer.jsonl", ours, other)
    assert "holds rows of another firm" in refused(capsys, "restore", str(changed))
    assert nothing_stayed(settings)


def test_a_log_that_was_changed_is_refused_and_nothing_stays(left, settings, tmp_path, capsys):
    name = "rows/records.signedfollowup.jsonl"
    changed = forged(left.file, tmp_path / "x.zip", name, b'"kind":"copy-given"', b'"kind":"note"')
    with pytest.raises(SystemExit) as ended:
        call_command("restore", str(changed))
    assert ended.value.code == 1
    assert "FAILS" in capsys.readouterr().out
    assert nothing_stayed(settings)


def test_bytes_that_are_not_those_of_the_manifest_are_refused(left, tmp_path, capsys):
    changed = rewritten(left.file, tmp_path / "x.zip", **{"rows/records.site.jsonl": b""})
    assert "is not what was put into it" in refused(capsys, "restore", str(changed))


@pytest.mark.parametrize("uuid", ["../../elsewhere", "", None, "0"])
def test_a_firm_whose_id_is_none_is_refused(left, uuid, tmp_path, capsys):
    changed = with_manifest(left.file, tmp_path / "x.zip", firm={"uuid": uuid, "name": "x"})
    assert "does not belong" in refused(capsys, "restore", str(changed))


@pytest.mark.parametrize(
    "label", ["records.programtoken", "records.User", "sessions.session", "django_tasks_db.dbtaskresult"]
)
def test_a_table_that_never_leaves_a_service_is_let_into_none(left, label, settings, tmp_path, capsys):
    added = with_table(left.file, tmp_path / "x.zip", label)
    assert f"there is no table {label}" in refused(capsys, "restore", str(added))
    assert nothing_stayed(settings)


def test_an_account_with_a_right_over_the_machine_is_refused(left, settings, tmp_path, capsys):
    told, more = b'"is_active":true', b'"is_active":true,"is_superuser":true'
    changed = forged(left.file, tmp_path / "x.zip", "rows/records.user.jsonl", told, more)
    assert "a row in rows/records.user.jsonl can't be read" in refused(capsys, "restore", str(changed))
    assert nothing_stayed(settings)


def test_rows_of_a_firm_that_are_said_to_be_of_every_firm_are_refused(left, settings, tmp_path, capsys):
    stated = manifest_of(left.file)["tables"] | {"records.customer": {"rows": 1, "of_every_firm": ["name"]}}
    changed = with_manifest(left.file, tmp_path / "x.zip", tables=stated)
    assert "there is no table records.customer" in refused(capsys, "restore", str(changed))
    assert nothing_stayed(settings)


@pytest.mark.long
def test_a_file_of_an_older_version_is_put_in_as_it_was_and_brought_up_to_this_one(left, tmp_path, capsys):
    older = as_of(left.file, tmp_path / "older.zip", *BEFORE)
    call_command("restore", str(older))
    assert f"{left.firm.name}: 7 entries, root {left.root}\nAll logs hold." in capsys.readouterr().out
    assert rows_of(left.firm) == left.rows
    assert triggers.missing(connection) == []
    assert set(MigrationLoader(connection).applied_migrations) >= set(MigrationLoader(None).disk_migrations)


@pytest.mark.long
def test_one_that_does_not_hold_leaves_an_empty_service_of_this_version(left, settings, tmp_path, capsys):
    name = "rows/records.signedfollowup.jsonl"
    older = as_of(left.file, tmp_path / "older.zip", *BEFORE)
    changed = forged(older, tmp_path / "x.zip", name, b'"kind":"copy-given"', b'"kind":"note"')
    with pytest.raises(SystemExit) as ended:
        call_command("restore", str(changed))
    assert ended.value.code == 1
    assert "FAILS" in capsys.readouterr().out
    assert nothing_stayed(settings)
    assert triggers.missing(connection) == []


def test_of_a_firm_that_is_not_there_nothing_is_written(db, tmp_path, capsys):
    with pytest.raises(SystemExit) as ended:
        call_command("take_out", str(uuid4()), str(tmp_path / "x.zip"))
    assert ended.value.code == 2
    assert list(tmp_path.glob("*.zip")) == []


def forged(file: Path, target: Path, name: str, old: bytes | None, new: bytes) -> Path:
    """Other bytes with a manifest that fits them."""
    with ZipFile(file) as archive:
        data = archive.read(name)
    assert old is None or old in data
    data = new if old is None else data.replace(old, new)
    manifest = manifest_of(file)
    manifest["files"][name] = {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
    return rewritten(file, target, **{name: data, "manifest.json": json.dumps(manifest).encode()})


def with_table(file: Path, target: Path, label: str) -> Path:
    """An empty table more than was taken along."""
    name, manifest = f"rows/{label}.jsonl", manifest_of(file)
    manifest["tables"][label] = {"rows": 0, "of_every_firm": []}
    manifest["files"][name] = {"bytes": 0, "sha256": hashlib.sha256(b"").hexdigest()}
    with ZipFile(file) as old, ZipFile(target, "w") as new:
        for each in old.namelist():
            if each != "manifest.json":
                new.writestr(each, old.read(each))
        new.writestr(name, b"")
        new.writestr("manifest.json", json.dumps(manifest))
    return target


def as_of(file: Path, target: Path, *ends: tuple[str, str]) -> Path:
    """The file as the program would have written it when these were its last migrations."""
    loader = MigrationLoader(None)
    then = loader.project_state(list(ends)).apps
    manifest = manifest_of(file)
    applied = {node for end in ends for node in loader.graph.forwards_plan(end)}
    manifest["migrations"] = sorted(map(list, applied))
    with ZipFile(file) as archive:
        members = {name: archive.read(name) for name in archive.namelist() if name != "manifest.json"}
    for label in list(manifest["tables"]):
        name = f"rows/{label}.jsonl"
        app, model = label.split(".")
        if model in then.all_models[app]:
            columns = {field.attname for field in then.get_model(label)._meta.concrete_fields}
            rows = [json.loads(line) for line in members[name].splitlines()]
            kept = [{column: row[column] for column in row if column in columns} for row in rows]
            members[name] = b"".join(json_line(row) for row in kept)
        else:
            del manifest["tables"][label], members[name]
    manifest["files"] = {
        name: {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()} for name, data in members.items()
    }
    with ZipFile(target, "w") as out:
        for name, data in {**members, "manifest.json": json.dumps(manifest).encode()}.items():
            out.writestr(name, data)
    return target


def nothing_stayed(settings) -> bool:
    files = Path(settings.FILES_DIR)
    return (
        not Firm.across_firms.exists()
        and not User.objects.exists()
        and not (files.exists() and any(files.iterdir()))
    )
