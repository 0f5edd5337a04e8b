"""Published values, each row with its source, from `fixtures/check_values`."""

import csv
from pathlib import Path

_FOLDER = Path(__file__).parents[2] / "fixtures" / "check_values"


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one table of check values."""
    with (_FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
