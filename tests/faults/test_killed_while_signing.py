"""A process that is killed while it signs leaves a draft or a signed record, never half of one."""

import pytest

from tests.faults.programs import printed_by


@pytest.fixture
def endings(transactional_db, tmp_path) -> list[dict]:
    return printed_by("sign_and_die", tmp_path)


NOTHING = {
    "killed": True,
    "state": "draft",
    "outcome": "",
    "signed": 0,
    "checks": 0,
    "keys": 0,
    "entries": 0,
    "log": [],
}
ALL = {"state": "signed", "outcome": "not_met", "signed": 1, "checks": 1, "keys": 1, "entries": 1, "log": []}


@pytest.mark.long
def test_killed_at_any_point_it_leaves_the_draft_or_the_whole_record_once(endings):
    *before, after_commit, again, twice = endings
    assert len(before) > 15
    assert before[-1]["point"] == "before commit"
    for ending in before:
        assert ending == {"point": ending["point"], **NOTHING}
    assert after_commit == {"point": "after commit", "killed": True, **ALL}
    assert again == {"point": "sent again", "killed": False, **ALL}
    assert twice == {"point": "twice at once", "killed": False, **ALL}
