"""The data files of one invented firm, read strictly: every value is text."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shared import strict_yaml

FOLDER = Path(__file__).resolve().parent.parent.parent / "fixtures" / "demo"


@dataclass(frozen=True)
class FirmSource:
    """What stands in a firm's folder: `firm`, `people`, `rigs`, `products`, `sites` and `story`."""

    firm: dict[str, Any]
    people: list[dict[str, Any]]
    rigs: list[dict[str, Any]]
    products: list[dict[str, Any]]
    sites: list[dict[str, Any]]
    story: dict[str, Any]


def read_firm(name: str) -> FirmSource:
    """The files in `fixtures/demo/<name>/`. Raises StrictYamlError, naming file and line."""
    parts = {part: _read(FOLDER / name / f"{part}.yaml") for part in FirmSource.__dataclass_fields__}
    return FirmSource(**parts)


def _read(path: Path) -> Any:
    return strict_yaml.read(path.read_text(encoding="utf-8"), f"{path.parent.name}/{path.name}")
