"""A bundle whose worker is killed anywhere goes on: what was drawn stays, each is noted once, and it holds."""

import pytest

from tests.faults.programs import printed_by


@pytest.fixture
def endings(transactional_db, tmp_path) -> list[dict]:
    return printed_by("bundle_and_die", tmp_path)


@pytest.mark.long
def test_killed_at_statement_after_statement_it_comes_to_its_end(endings):
    *before, last = endings
    assert len(before) > 10
    assert all(ending["killed"] and ending["state"] in ("waiting", "making") for ending in before)
    drawn = [ending["drawn"] for ending in before]
    assert drawn == sorted(drawn)
    assert set(drawn) == {0, 1, 2, 3}
    assert {ending["noted"] for ending in before} == {0, 3}
    assert last == {"killed": False, "state": "ready", "noted": 3, "drawn": 0, "code": 0}
