"""The files that are committed, as the health tests walk them."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
ROOMS = ("shared", "records", "compliance", "project")


def files(*endings: str) -> list[Path]:
    """Committed files and new ones that git doesn't ignore, whose names end so; all without endings."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    paths = [ROOT / name for name in listed if not endings or name.endswith(endings)]
    return [path for path in paths if path.exists()]


def code(*rooms: str) -> list[Path]:
    """The Python files of these rooms (all four without names), migrations left out."""
    roots = [ROOT / room for room in rooms or ROOMS]
    inside = [path for path in files(".py") if any(path.is_relative_to(root) for root in roots)]
    return [path for path in inside if path.parent.name != "migrations"]


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
