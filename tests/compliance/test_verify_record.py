"""`manage.py verify_record`: one line for each thing, 0 holds, 1 does not, 2 not a record file."""

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from records.document.signatures import key_digest
from tests.records.document.logged_files import logged_file
from tests.records.document.record_files import file, keys
from tests.records.document.test_signed_record import KEY, OTHER_KEY

DIGEST = key_digest(KEY.public_key())


def run(folder: Path, given: object, *options: str) -> tuple[int, list[str], str]:
    """Exit code, lines of standard output, standard error."""
    path, out, errors = folder / "given.json", StringIO(), StringIO()
    path.write_text(given if isinstance(given, str) else json.dumps(given))
    with pytest.raises(SystemExit) as ended:
        call_command("verify_record", str(path), *options, stdout=out, stderr=errors)
    return int(ended.value.code or 0), out.getvalue().splitlines(), errors.getvalue()


def test_a_record_that_holds_is_said_thing_by_thing_with_the_key_to_compare(tmp_path: Path) -> None:
    code, lines, errors = run(tmp_path, file())
    assert (code, errors) == (0, "")
    assert lines[0] == "holds  record.signatures[0]"
    assert "holds  sections.customer" in lines
    assert "holds  check" in lines
    assert lines[-2] == "The record holds."
    assert DIGEST in lines[-1]


def test_with_the_firms_key_named_nothing_is_left_to_compare(tmp_path: Path) -> None:
    code, lines, _errors = run(tmp_path, file(), "--key", DIGEST)
    assert (code, lines[-1]) == (0, "The record holds.")


def test_a_record_signed_with_another_key_than_the_firms_does_not_hold(tmp_path: Path) -> None:
    other = key_digest(OTHER_KEY.public_key())
    code, lines, _errors = run(tmp_path, file(keys=keys(KEY, OTHER_KEY)), "--key", other)
    assert code == 1
    assert lines[0].startswith("FAILS  record.signatures[0].key: this was signed with another key than the one")
    assert "if it is an earlier or later key of this firm" in lines[0]
    assert lines[-1] == "The record does not hold."


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"keys": {}}, "FAILS  record.signatures: no public key came with the record"),
        ({"check": {"schema": "other"}}, "FAILS  check: this is not the check that was signed"),
        ({"sections": {"notes": 2.5}}, "FAILS  sections.notes: this is not the section that was signed"),
    ],
)
def test_what_fails_is_named(tmp_path: Path, changes: dict[str, Any], line: str) -> None:
    code, lines, errors = run(tmp_path, file(**changes))
    assert (code, errors) == (1, "")
    assert [one for one in lines if one.startswith(line)]


def test_what_nobody_signed_is_said_to_be_stated_alone(tmp_path: Path) -> None:
    beside = {"entry": {"received_at": "2026-09-15T15:31:00+00:00"}, "superseded_by": {"version": 3}}
    code, lines, _errors = run(tmp_path, file(**beside))
    assert code == 0
    assert {"stated, not signed  entry.received_at", "stated, not signed  superseded_by"} <= set(lines)


def test_it_is_said_in_spanish(tmp_path: Path) -> None:
    _code, lines, _errors = run(tmp_path, file(keys={}), "--language", "es")
    assert lines[0].startswith("FALLA  record.signatures: el registro no trae ninguna clave")
    assert lines[-1] == "El registro no vale."


@pytest.mark.parametrize(
    "given",
    [
        "not JSON",
        "[]",
        {"schema": "treatment-document/1", "record": {}},
        {"schema": "record-file/1", "record": []},
    ],
)
def test_what_is_no_record_file_is_refused(tmp_path: Path, given: object) -> None:
    code, lines, errors = run(tmp_path, given)
    assert (code, lines) == (2, [])
    assert errors.strip()


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    errors = StringIO()
    with pytest.raises(SystemExit) as ended:
        call_command("verify_record", str(tmp_path / "none.json"), stderr=errors)
    assert ended.value.code == 2
    assert "none.json" in errors.getvalue()


def test_a_changed_signer_of_a_record_that_brings_its_place_in_the_log_does_not_hold(tmp_path: Path) -> None:
    assert run(tmp_path, logged_file(), "--key", DIGEST)[0] == 0
    changed = logged_file()
    changed["record"]["signatures"][0] |= {"by": "J. Quill", "claimed_at": "2026-09-14T06:00:00-07:00"}
    code, lines, _errors = run(tmp_path, changed, "--key", DIGEST)
    assert (code, lines[-1]) == (1, "The record does not hold.")
    assert lines[0].startswith("FAILS  record: the log has other bytes there")


def test_without_a_place_in_the_log_it_says_so_and_what_is_only_stated(tmp_path: Path) -> None:
    changed = file()
    changed["record"]["signatures"][0]["by"] = "J. Quill"
    code, lines, _errors = run(tmp_path, changed, "--key", DIGEST)
    assert code == 0
    assert "stated, not signed  record.signatures[0].by" in lines
    assert lines[-3].startswith("Its place in the log was not looked at")


def test_a_log_of_nothing_is_no_place_in_the_log(tmp_path: Path) -> None:
    _code, lines, _errors = run(tmp_path, file() | {"log": None}, "--key", DIGEST)
    assert lines[-3].startswith("Its place in the log was not looked at")


def test_what_may_exist_beyond_the_file_is_said_also_where_it_states_none_of_it(tmp_path: Path) -> None:
    bare = {name: part for name, part in logged_file().items() if name not in ("superseded_by", "follow_ups")}
    code, lines, _errors = run(tmp_path, bare, "--key", DIGEST)
    assert code == 0
    assert lines[-2].startswith("A later version, a void or a follow-up may exist beyond this file")


@pytest.mark.parametrize("form", [DIGEST.upper().replace("SHA256:", ""), f" {DIGEST[:20]} {DIGEST[20:]}"])
def test_a_key_may_be_named_as_people_copy_it(tmp_path: Path, form: str) -> None:
    assert run(tmp_path, file(), "--key", form)[0] == 0


def test_a_follow_up_that_stands_there_twice_is_named(tmp_path: Path) -> None:
    given = file()
    code, lines, _errors = run(tmp_path, {**given, "follow_ups": given["follow_ups"] * 2})
    assert code == 1
    assert "FAILS  follow_ups[1]: it stands there twice" in lines


def test_what_is_no_digest_of_a_key_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="a digest is 64 characters"):
        run(tmp_path, file(), "--key", "my key")
