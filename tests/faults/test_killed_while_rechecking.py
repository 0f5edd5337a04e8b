"""A re-check that is killed anywhere goes on where it was, and stores each result once."""

import pytest

from tests.faults.programs import printed_by


@pytest.fixture
def endings(transactional_db, tmp_path) -> list[dict]:
    return printed_by("recheck_and_die", tmp_path)


@pytest.mark.long
def test_killed_at_statement_after_statement_it_comes_to_its_end(endings):
    *before, last = endings
    assert len(before) > 10
    assert all(ending["killed"] and not ending["finished"] for ending in before)
    counts = [ending["results"] for ending in endings]
    assert counts == sorted(counts)
    assert {0, 1} < set(counts)
    assert all(ending["once"] and ending["runs"] <= 1 and ending["checks"] == 4 for ending in endings)
    assert last == {"killed": False, "results": 4, "once": True, "runs": 1, "finished": True, "checks": 4}
