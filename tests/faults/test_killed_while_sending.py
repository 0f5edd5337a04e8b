"""A worker killed with SIGKILL at any moment loses no notice and sends none twice; what it held is shown."""

import pytest

from tests.faults.programs import printed_by


@pytest.mark.parametrize("many", [5, pytest.param(100, marks=pytest.mark.long)])
def test_no_notice_is_lost_or_sent_twice(transactional_db, tmp_path, many):
    (found,) = printed_by("kill_outbox", tmp_path, str(many))
    assert found["killed"] >= many
    assert found["made"] == found["added"]
    assert (found["twice"], found["lost"], found["unseen"]) == ([], [], [])
    assert found["unsure"] == found["tasks"]
