"""What `make lint` runs, run with every test."""

import ast
import subprocess
import sys
import tomllib

from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

from tests.health.committed import ROOMS, ROOT


def test_every_arrow_between_the_rooms_runs_the_right_way(monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.setattr("importlinter.cli._configure_logging", lambda _verbose: None)  # silences all loggers
    assert lint_imports(config_filename="pyproject.toml", no_cache=True) == EXIT_STATUS_SUCCESS


def test_what_says_to_be_pure_is_held_to_it():
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    held = {
        name for each in contracts if each["name"].startswith("Pure modules") for name in each["source_modules"]
    }
    assert {name for name in says_pure() if not held & {name, *above(name)}} == set()


def says_pure() -> set[str]:
    """The modules whose docstring says `Pure` as a sentence, or as its beginning."""
    said = {
        path: ast.get_docstring(ast.parse(path.read_text()))
        for room in ROOMS
        for path in (ROOT / room).rglob("*.py")
    }
    names = {path: path.relative_to(ROOT).with_suffix("").parts for path in said}
    return {
        ".".join(names[path]).removesuffix(".__init__")
        for path, text in said.items()
        if text and ("Pure." in text or "Pure and " in text)
    }


def above(name: str) -> set[str]:
    parts = name.split(".")
    return {".".join(parts[:count]) for count in range(1, len(parts))}


def test_ruff_finds_nothing():
    check = run("ruff", "check", "--no-cache", ".")
    assert check.returncode == 0, check.stdout


def test_the_pure_modules_are_strictly_typed():
    check = run("mypy", "--no-error-summary")
    assert check.returncode == 0, check.stdout


def run(*command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
