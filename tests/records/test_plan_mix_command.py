"""`manage.py plan_mix`."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import execute_from_command_line

ROOT = Path(__file__).parents[2]
GIVEN = {"--area": "2600 ft**2", "--coverage": "1.3 gal/(100 ft**2)", "--dilution": "1:15"}


def run(*flags: str, **changed: str | None) -> int:
    """The exit code of the command; what it prints is with capsys."""
    given = {**GIVEN, **{f"--{name}": value for name, value in changed.items()}}
    options = [part for name, value in given.items() if value is not None for part in (name, value)]
    try:
        execute_from_command_line(["manage.py", "plan_mix", *options, *flags])
    except SystemExit as stopped:
        return int(stopped.code or 0)
    return 0


def test_json_is_all_that_stands_on_standard_output(capsys):
    code = run("--json", tank="25 gal", flow="2.2 gal/min")
    printed = capsys.readouterr()
    plan = json.loads(printed.out)

    assert (code, printed.err) == (0, "")
    assert list(plan) == ["finished_mix", "product", "diluent", "loads", "spray_time", "basis", "notes"]
    assert plan["product"] == {"value": "2.1125", "unit": "gal"}
    assert plan["spray_time"] == {"value": "15.3636", "unit": "min"}


def test_a_person_reads_the_plan_in_lines(capsys):
    run(area="5400 ft**2", tank="25 gal", flow="2.2 gal/min")

    assert capsys.readouterr().out.splitlines()[:6] == [
        "Finished mix: 70.2 gal",
        "Product: 4.3875 gal",
        "Diluent: 65.8125 gal",
        "Loads (product + diluent): 2 × 25 gal = 1.5625 gal + 23.4375 gal",
        "Loads (product + diluent): 1 × 20.2 gal = 1.2625 gal + 18.9375 gal",
        "Spraying time: 31.9091 min",
    ]


def test_a_person_reads_the_plan_in_spanish(capsys):
    run("--language", "es")
    lines = capsys.readouterr().out.splitlines()

    assert lines[0] == "Mezcla final: 33.8 gal"
    assert lines[3].startswith("Leído como: 1:15 significa 1 + 15 partes")


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"area": "3000 gal"}, "--area: expected an area, got 3000 gal\n"),
        ({"area": "-5 ft**2"}, "--area: an area cannot be below 0, got -5 ft²\n"),
        ({"tank": "0 L"}, "--tank: 0 L will not do; it must be above 0\n"),
        ({"area": None}, "manage.py plan_mix: error: the following arguments are required: --area\n"),
    ],
)
def test_bad_input_gets_one_sentence_on_standard_error_and_exit_code_two(capsys, changed, sentence):
    code = run(**changed)
    printed = capsys.readouterr()

    assert (code, printed.out, printed.err) == (2, "", sentence)


def test_an_unknown_option_gets_one_sentence_too(capsys):
    code = run("--colour", "green")
    printed = capsys.readouterr()

    assert (code, printed.out, len(printed.err.splitlines())) == (2, "", 1)


def test_bad_input_is_refused_in_the_language_asked_for(capsys):
    run("--language", "es", area="3000 gal")

    assert capsys.readouterr().err == "--area: se esperaba una superficie, se recibió 3000 gal\n"


def test_the_command_needs_no_database():
    arguments = [part for option in GIVEN.items() for part in option]
    environment = {**os.environ, "DATABASE_URL": "sqlite:////nowhere/at/all.sqlite3"}
    done = subprocess.run(
        [sys.executable, "manage.py", "plan_mix", *arguments, "--json"],
        cwd=ROOT, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["finished_mix"] == {"value": "33.8", "unit": "gal"}


def test_a_percent_by_weight_needs_a_density(capsys):
    assert run(dilution="5 % by weight") == 2
    assert "needs the density of the product" in capsys.readouterr().err
    assert run("--json", dilution="5 % by weight", density="9.2 lb/gal") == 0
    plan = json.loads(capsys.readouterr().out)
    assert plan["product"]["unit"] == "gal"
    assert "9.2 lb/gal" in plan["basis"]
    assert run(dilution="5 % by weight", density="9.2 gal") == 2
    assert capsys.readouterr().err == "--density: expected a density, got 9.2 gal\n"
