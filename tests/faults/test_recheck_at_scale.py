"""A register is checked again in the memory of a fifth of it; `docs/measured.md` has the run over 100,000."""

import pytest

from tests.faults.programs import printed_by

FEW, MANY = 2_000, 10_000
DIFFERENT_OR_NOT = (0, 1)


@pytest.fixture
def runs(transactional_db, tmp_path) -> list[dict]:
    return printed_by("recheck_at_scale", tmp_path, str(FEW), str(MANY))


@pytest.mark.long
def test_the_memory_of_a_recheck_does_not_grow_with_the_register(runs):
    few, many = runs
    assert (few["checked"], many["checked"]) == (FEW, MANY)
    assert few["code"] in DIFFERENT_OR_NOT and many["code"] in DIFFERENT_OR_NOT
    assert many["megabytes"] < 1.15 * few["megabytes"]
