"""A bundle of ten thousand records is made in the memory of one of five hundred, and holds."""

import pytest

from tests.faults.programs import printed_by

FEW, MANY = 500, 10_000


@pytest.fixture
def runs(transactional_db, tmp_path) -> list[dict]:
    return printed_by("bundles_at_scale", tmp_path, str(FEW), str(MANY))


@pytest.mark.long
def test_the_memory_of_a_bundle_does_not_grow_with_its_records_and_what_is_left_out_is_nowhere(runs):
    few, many = runs
    assert [(run["records"], run["state"], run["code"], run["named"]) for run in runs] == [
        (FEW, "ready", 0, 0),
        (MANY, "ready", 0, 0),
    ]
    assert many["pages"] > 10 * few["pages"]
    assert many["megabytes"] < 1.3 * few["megabytes"]
