"""The command check_treatment: output, exit codes, faults; no database."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

from compliance.management.commands import check_treatment
from tests.compliance.patched import FIXTURES, load, patched

ROOT = FIXTURES.parent
DOCUMENT = FIXTURES / "facts" / "roof-in-september.json"
CONTEXT = FIXTURES / "facts" / "roof-in-september.context.json"
WINDY = {"weather.readings[0].wind_speed": {"value": "14", "unit": "mph"}}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Any:
    """Run the command on a patched document: exit code, standard output, standard error."""

    def runs(
        changes: dict[str, Any] | None = None, *options: str, context: Any = CONTEXT
    ) -> tuple[int, str, str]:
        file = tmp_path / "document.json"
        file.write_text(json.dumps(patched(load("facts/roof-in-september.json"), changes or {})))
        given = ["--context", str(context)] if context else []
        with pytest.raises(SystemExit) as ended:
            call_command("check_treatment", str(file), *given, *options)
        captured = capsys.readouterr()
        return int(ended.value.code or 0), captured.out, captured.err

    return runs


def test_the_example_is_met_and_exits_with_0(run: Any) -> None:
    code, out, err = run(None, "--json")
    answer = json.loads(out)
    assert (code, err, answer["outcome"]) == (0, "", "met")
    assert [pack["pack"] for pack in answer["packs"]] == ["everywhere", "us", "us-wa"]
    assert answer["not_covered"] == []
    unmet = [one for one in answer["findings"] if one["outcome"] in ("not_met", "cant_tell")]
    assert {one["rule"]: one["level"] for one in unmet} == {
        "us-wa/notice/registered": "advised",
        "us-wa/posting/marker": "advised",
    }


def test_a_breach_exits_with_1_and_says_what_to_do(run: Any) -> None:
    code, out, err = run(WINDY, "--json")
    answer = json.loads(out)
    first = answer["findings"][0]
    assert (code, err, answer["outcome"]) == (1, "", "not_met")
    assert first["rule"] == "label/99999-12/wind_speed"
    assert first["about"] == ["weather.readings[0].wind_speed"]
    assert first["observed"] == {"value": "14", "unit": "mph"}
    assert first["bound"] == {"value": "10", "unit": "mph"}
    assert first["message"] == (
        "Wind was 14 mph; the label of Sample Moss Wash allows 10 mph. Stop, wait and measure again."
    )


def test_what_cant_be_told_exits_with_1(run: Any) -> None:
    code, out, _ = run({"weather.forecast": None}, "--json")
    assert (code, json.loads(out)["outcome"]) == (1, "cant_tell")


def test_a_finding_has_the_members_that_the_contract_names(run: Any) -> None:
    finding = json.loads(run(None, "--json")[1])["findings"][0]
    named = ["rule", "outcome", "level", "cite", "about", "observed", "bound", "due", "message"]
    assert set(named) <= set(finding)
    assert all(one["cite"] for one in json.loads(run(None, "--json")[1])["findings"])


def test_a_person_reads_it_in_spanish(run: Any) -> None:
    code, out, _ = run(WINDY, "--language", "es")
    assert code == 1
    assert "No se cumple (1)" in out
    assert "la etiqueta de Sample Moss Wash permite 10 mi/h. Pare, espere y mida de nuevo." in out
    assert "Esto es una ayuda, no asesoramiento legal ni una aprobación." in out


def test_a_person_reads_what_is_wrong_first_and_what_was_not_checked_last(run: Any) -> None:
    out = run(WINDY)[1]
    assert (
        out.index("Not met (1)")
        < out.index("Met (")
        < out.index("Limits in force")
        < out.index("Not checked")
    )
    assert "no approval" in out.splitlines()[-1]


def test_the_day_of_the_check_decides_what_is_overdue(run: Any) -> None:
    unrecorded = {"timing.recorded_at": None}
    assert run(unrecorded, "--on", "2026-09-14", "--json")[0] == 0
    assert run(unrecorded, "--on", "2026-09-15", "--json")[0] == 1


def test_without_a_context_what_hangs_on_it_cant_be_told(run: Any) -> None:
    code, out, _ = run(None, "--json", context=None)
    assert code == 1
    assert json.loads(out)["findings"][0]["about"] == ["context.earlier"]


def test_each_fault_stands_on_standard_error_with_its_path_and_nothing_on_output(run: Any) -> None:
    faults = {
        "surfaces[0].treated_area": {"value": "3000", "unit": "gal"},
        "timing.started_at": "2026-09-14T09:12:00",
    }
    code, out, err = run(faults, "--json")
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 2
    assert "surfaces[0].treated_area: expected an area, got 3000 gal" in err
    assert "timing.started_at: " in err


def test_a_fault_of_the_context_carries_its_path(run: Any, tmp_path: Path) -> None:
    context = tmp_path / "context.json"
    context.write_text('{"neighbours": [{"distance": {"value": "20", "unit": "gal"}}]}')
    code, out, err = run(None, context=context)
    assert (code, out) == (2, "")
    assert err.startswith("context.neighbours[0].distance: ")


def test_faults_are_said_in_spanish(run: Any) -> None:
    err = run({"surfaces[0].treated_area": {"value": "3000", "unit": "gal"}}, "--language", "es")[2]
    assert err.startswith("surfaces[0].treated_area: se esperaba una superficie")


@pytest.mark.parametrize(
    ("options", "said"), [(["--on", "tomorrow"], "--on: "), (["--on", "2026-02-30"], "--on: ")]
)
def test_a_day_that_is_none_is_bad_input(run: Any, options: list[str], said: str) -> None:
    code, out, err = run(None, *options)
    assert (code, out) == (2, "")
    assert err.startswith(said)


def test_a_file_that_is_not_there_is_bad_input(run: Any, tmp_path: Path) -> None:
    code, out, err = run(None, context=tmp_path / "none.json")
    assert (code, out) == (2, "")
    assert "there is no file" in err


def test_an_internal_error_exits_with_3_and_one_sentence(run: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a wheel came off")

    monkeypatch.setattr(check_treatment, "check_document", broken)
    assert run() == (3, "", "internal error: RuntimeError: a wheel came off\n")


def test_the_command_needs_no_database_and_refuses_unknown_options(tmp_path: Path) -> None:
    environment = {**os.environ, "DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"}
    environment.pop("DJANGO_SETTINGS_MODULE", None)
    command = [
        sys.executable,
        "manage.py",
        "check_treatment",
        str(DOCUMENT),
        "--context",
        str(CONTEXT),
        "--json",
    ]
    first, again = (
        subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=False) for _ in range(2)
    )
    assert (first.returncode, first.stderr) == (0, b"")
    assert first.stdout == again.stdout
    wrong = subprocess.run([*command, "--loud"], cwd=ROOT, env=environment, capture_output=True, check=False)
    assert (wrong.returncode, wrong.stdout) == (2, b"")
    assert b"Traceback" not in wrong.stderr


def test_a_context_that_is_a_pipe_is_bad_input_and_is_not_waited_for(run: Any, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    code, _, err = run(context=tmp_path / "pipe")
    assert code == 2
    assert "not an ordinary file" in err
