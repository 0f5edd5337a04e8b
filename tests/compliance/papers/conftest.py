"""`pytest tests/compliance/papers --update-golden` writes the golden files anew, for a person to look at."""

import json
from collections.abc import Callable

import pytest

from tests.compliance.papers.samples import GOLDEN


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write the papers' golden files anew")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, object], None]:
    """Compare JSON data with a golden file of this name."""
    update = request.config.getoption("--update-golden", default=False)

    def compare(name: str, content: object) -> None:
        file = GOLDEN / f"{name}.json"
        if update:
            file.write_text(json.dumps(content, ensure_ascii=False, indent=1) + "\n")
        assert content == json.loads(file.read_text())

    return compare
