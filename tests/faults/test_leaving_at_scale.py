"""A firm leaves in little memory, however much it has signed."""

import pytest

from tests.faults.programs import printed_by

FEW, MANY = 500, 10_000


@pytest.fixture
def runs(transactional_db, tmp_path) -> list[dict]:
    return printed_by("leaving_at_scale", tmp_path, str(FEW), str(MANY))


@pytest.mark.long
def test_the_memory_of_the_way_out_does_not_grow_with_what_was_signed(runs):
    few, many = runs
    assert (few["code"], many["code"]) == (0, 0)
    assert many["megabytes"] < 1.3 * few["megabytes"]
