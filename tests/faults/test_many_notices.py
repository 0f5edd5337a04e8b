"""Notices are queued, printed and sent in the memory of a twentieth of them; `docs/measured.md` has the run."""

import pytest

from tests.faults.programs import printed_by

FEW, MANY = 520, 10_000


@pytest.mark.long
def test_ten_thousand_notices_need_no_more_memory_and_the_progress_is_true(transactional_db, tmp_path):
    few, many = printed_by("notices_at_scale", tmp_path, str(FEW), str(MANY))
    assert many["came"] == many["shown"]["sent"] == MANY * 3 // 4
    assert many["shown"]["printed"] == MANY // 4
    assert (many["twice"], many["untrue"]) == ([], [])
    assert many["megabytes"] < 1.3 * few["megabytes"]
