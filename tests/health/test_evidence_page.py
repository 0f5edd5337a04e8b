"""The table in docs/evidence.md names tests that there are."""

import re

from tests.faults.programs import ROOT

ROWS = re.findall(r"^\| 11\..*\| `(.+)::(.+)` \|$", (ROOT / "docs" / "evidence.md").read_text(), re.MULTILINE)


def test_each_clause_has_a_test_that_there_is():
    assert len(ROWS) >= 16
    missing = [name for file, name in ROWS if f"def {name}(" not in (ROOT / file).read_text()]
    assert missing == []
