"""A bundle is checked by its own script alone, and whatever was changed in it is named."""

import io
import json
import subprocess
import sys
from hashlib import sha256
from zipfile import ZipFile

import pytest
from django.core.management import call_command
from django.db import connection

from records.bundle.writer import NothingToBundleError, write_bundle
from records.models import SigningKey
from tests.records.logged import by_sql, key_of


@pytest.fixture
def bundle(logged, firm, done, tmp_path):
    """The unpacked bundle of all versions of a treatment that has follow-ups."""
    return unpacked(firm, done, tmp_path / "bundle")


def unpacked(firm, treatment, folder, withheld=()):
    written = io.BytesIO()
    write_bundle(firm, [treatment.pk], written, withheld)
    ZipFile(written).extractall(folder)
    return folder


def run(folder, *arguments):
    """Code and lines of the script, run as a stranger would: by itself, without the project on its path."""
    ran = subprocess.run(
        [sys.executable, "-I", str(folder / "verify_records.py"), *arguments],
        cwd="/", capture_output=True, text=True, check=False, env={},
    )  # fmt: skip
    return ran.returncode, ran.stdout + ran.stderr


def change(folder, name, change_it, *, sums=True):
    """Change a file of JSON, and its checksum with it, as a forger would."""
    path = folder / name
    value = json.loads(path.read_text())
    change_it(value)
    path.write_text(json.dumps(value, indent=1))
    if sums:
        add_up(folder)


def add_up(folder):
    files = sorted(path for path in folder.rglob("*") if path.is_file() and path.name != "SHA256SUMS")
    lines = [f"{sha256(path.read_bytes()).hexdigest()}  {path.relative_to(folder)}\n" for path in files]
    (folder / "SHA256SUMS").write_text("".join(lines))


def failing(folder, *arguments):
    code, said = run(folder, *arguments)
    assert code == 1, said
    return [line.removeprefix("FAILS     ") for line in said.splitlines() if line.startswith("FAILS")]


def first_record(folder):
    return min(path.relative_to(folder) for path in folder.glob("records/*.json"))


def test_a_bundle_that_nobody_touched_holds(bundle, firm):
    code, said = run(bundle, "--key", SigningKey.objects.for_firm(firm).get().digest)
    assert (code, said.splitlines()[-1]) == (0, "The bundle holds.")
    assert "FAILS" not in said


def test_each_thing_has_a_line(bundle, done):
    said = run(bundle)[1]
    for line in (
        f"holds     {done.number} version 1, entered in the log at 0",
        f"holds     {done.number} version 2, entered in the log at 3",
        f"holds     {done.number} version 3, entered in the log at 6",
        f"holds     {done.number} version 1, follow-up 4 (copy-given), entered in the log at 1",
        f"holds     {done.number} version 1, timing",
        "holds     log.json, its checksum, which nobody signed",
    ):
        assert line in said.splitlines()


def test_the_same_records_give_the_same_bytes(logged, firm, done):
    one, other = io.BytesIO(), io.BytesIO()
    for out in (one, other):
        write_bundle(firm, [done.pk], out)
    assert one.getvalue() == other.getvalue()


def test_a_bundle_of_nothing_is_refused(firm):
    with pytest.raises(NothingToBundleError):
        write_bundle(firm, [], io.BytesIO())


def test_a_section_that_is_withheld_is_named_and_the_rest_holds(logged, firm, done, tmp_path):
    folder = unpacked(firm, done, tmp_path / "withheld", withheld=["people", "customer"])
    code, said = run(folder)
    assert code == 0
    assert f"withheld  {done.number} version 1, people" in said
    assert "R. Osei" not in json.dumps(json.loads((folder / first_record(folder)).read_text())["sections"])


def test_a_changed_section_is_named(bundle, done):
    change(bundle, first_record(bundle), lambda file: file["sections"]["site"].update(name="Another house"))
    assert failing(bundle) == [f"{done.number} version 1, site: this is not what was signed"]


def test_a_changed_file_is_found_by_its_checksum(bundle):
    name = first_record(bundle)
    change(bundle, name, lambda file: file["sections"]["site"].update(name="Another house"), sums=False)
    means = "the file was changed since the bundle was made"
    assert f"{name}, its checksum, which nobody signed: {means}" in failing(bundle)


def test_a_changed_record_is_named_by_its_signature_and_its_place(bundle, done):
    change(bundle, first_record(bundle), lambda file: file["record"]["record"].update(number="2026-0999"))
    said = "\n".join(failing(bundle))
    assert (
        "2026-0999 version 1, signature by R. Osei, crew, signed: what was signed, or the signature, was"
        in said
    )
    assert "2026-0999 version 1, its place in the log: it is not among the bundle's entries" in said
    assert "entry 0: what was signed there was taken out" in said


def test_a_follow_up_that_was_taken_out_is_missed(bundle):
    for path in bundle.glob("records/*.json"):
        change(bundle, path.relative_to(bundle), lambda file: file["follow_ups"].pop())
    assert failing(bundle) == ["entry 1: what was signed there was taken out"]


def test_a_record_that_was_taken_out_is_missed(bundle):
    name = str(first_record(bundle))
    (bundle / name).unlink()
    change(bundle, "log.json", lambda log: log["files"].remove(name))
    assert failing(bundle) == ["entry 0: what was signed there was taken out"]


def test_a_record_that_was_added_is_named(bundle):
    (bundle / "records" / "extra.json").write_text("{}")
    assert failing(bundle) == [
        "records/extra.json: it lies in the bundle and is in no log entry: nothing vouches for it",
    ]


def test_what_only_lies_beside_is_told_and_what_nobody_signed_for_is_called_so(bundle):
    (bundle / "notes.txt").write_text("all met")
    code, said = run(bundle)
    assert code == 0, said
    assert "note      notes.txt: SHA256SUMS does not name it, and nobody vouches for it" in said
    add_up(bundle)
    code, said = run(bundle)
    assert code == 0, said
    for name in ("notes.txt", "README.txt", "verify_records.py"):
        assert f"note      {name}: nobody signed for it, and nothing else vouches for it" in said


def test_a_record_at_another_place_is_named(bundle, done):
    change(bundle, "log.json", lambda log: log["entries"][0].update(index=1))
    line = f"{done.number} version 1, entered in the log at 1: the log does not hold these bytes at that place"
    assert line in failing(bundle)


def test_swapped_signatures_are_named(bundle):
    def swap(file):
        one, other = file["follow_ups"][0], file["follow_ups"][1]
        one["signatures"], other["signatures"] = other["signatures"], one["signatures"]

    change(bundle, first_record(bundle), swap)
    assert sum("what was signed, or the signature, was changed" in line for line in failing(bundle)) == 2


def test_what_was_moved_to_another_firm_still_goes_with_the_bundle_or_is_missed(
    logged, firm, done, stranger, tmp_path
):
    other = stranger.firm.pk.hex if connection.vendor == "sqlite" else str(stranger.firm.pk)
    by_sql("UPDATE records_treatment SET firm_id = %s WHERE uuid = %s", other, key_of(done))
    by_sql("UPDATE records_signedrecord SET firm_id = %s WHERE uuid = %s", other, key_of(logged[0]))
    out = tmp_path / "all.zip"
    call_command("write_bundle", str(firm.pk), "--output", str(out))
    ZipFile(out).extractall(tmp_path / "all")
    assert "entry 0: what was signed there was taken out" in failing(tmp_path / "all")
    assert (tmp_path / "all" / "records" / f"{done.number}-v2.json").exists()


def test_a_newer_head_that_does_not_keep_an_earlier_one_is_named(bundle):
    def rewrite(log):
        log["earlier"] = [{"head": {**log["head"], "size": 3}, "proof": ["00" * 32]}]

    change(bundle, "log.json", rewrite)
    said = "\n".join(failing(bundle))
    assert "the head of 3 entries, kept by the newest head: the log was rewritten since" in said


def test_a_bundle_signed_with_another_key_than_the_firms_is_refused(bundle):
    other = "sha256:" + "0" * 64
    said = failing(bundle, "--key", other)
    assert f"key {other}: it is not among the bundle's keys, so this is another firm's" in said
    assert any("it was made with a key that is not the firm's" in line for line in said)


def test_a_key_that_is_not_the_one_of_its_digest_is_named(bundle):
    change(bundle, "keys.json", lambda file: file["keys"].update({"sha256:" + "1" * 64: "A" * 43}))
    other = "key sha256:" + "1" * 64
    assert failing(bundle) == [
        f"{other}: this is not the key of that digest",
        f"{other}: nothing in the log introduces it",
    ]


@pytest.mark.parametrize(
    ("name", "text"),
    [("log.json", "[]"), ("log.json", '{"a": 1, "a": 2}'), ("log.json", "[" * 100_000)],
)
def test_what_is_no_bundle_is_refused_in_a_sentence(bundle, name, text):
    (bundle / name).write_text(text)
    code, said = run(bundle)
    assert code == 2
    assert said.startswith("This can't be checked: log.json ")


def test_a_file_outside_of_the_bundle_is_not_read(bundle):
    change(bundle, "log.json", lambda log: log["files"].append("../../etc/passwd"))
    assert failing(bundle) == [
        "../../etc/passwd: it is damaged and can't be checked (../../etc/passwd does not lie in the bundle)"
    ]
