"""What `make lint` runs, run with every test."""

import subprocess
import sys

from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

from tests.health.committed import ROOT


def test_every_arrow_between_the_rooms_runs_the_right_way(monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.setattr("importlinter.cli._configure_logging", lambda _verbose: None)  # silences all loggers
    assert lint_imports(config_filename="pyproject.toml", no_cache=True) == EXIT_STATUS_SUCCESS


def test_ruff_finds_nothing():
    check = run("ruff", "check", "--no-cache", ".")
    assert check.returncode == 0, check.stdout


def test_the_pure_modules_are_strictly_typed():
    check = run("mypy", "--no-error-summary")
    assert check.returncode == 0, check.stdout


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
