"""Killed with SIGKILL at any moment, signing, correcting and backing up have happened wholly or not at all."""

import pytest

from tests.faults.programs import printed_by


@pytest.mark.parametrize("many", [10, pytest.param(200, marks=pytest.mark.long)])
def test_nothing_signed_is_half_there_or_lost_and_the_log_holds(transactional_db, tmp_path, many):
    (found,) = printed_by("kill_at_random", tmp_path, str(many))
    assert found["killed"] >= many
    assert (found["halves"], found["log"]) == ([], [])
    assert found["signed"] == found["entries"] == found["heads"] > 0


@pytest.mark.parametrize("many", [3, pytest.param(200, marks=pytest.mark.long)])
def test_no_half_backup_is_taken_for_a_whole_one_and_the_service_goes_on(transactional_db, tmp_path, many):
    (found,) = printed_by("kill_backups", tmp_path, str(many))
    assert found["killed"] >= many
    assert (found["halves"], found["log"]) == ([], [])
    assert found["named"] + found["made_again"] == found["asked"]
    assert found["signed"] == 1 + len(range(1, found["asked"], 5))
