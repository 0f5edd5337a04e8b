"""Columns keep to the grid where their text fits, and else borrow room."""

import pytest

from shared.paper.widths import fitted


@pytest.mark.parametrize(
    ("widths", "needs", "fit"),
    [
        ([50, 50], [40, 50], [50, 50]),
        ([50, 50], [20, 70], [30, 70]),
        ([50, 50], [20, 200], [20, 80]),
        ([50, 50, 50], [20, 60, 200], [20, 60, 70]),
        ([50, 50], [90, 90], [50, 50]),
    ],
)
def test_room_goes_where_it_lacks_and_the_smallest_lack_is_met_first(widths, needs, fit) -> None:
    assert fitted(widths, needs) == pytest.approx(fit)
    assert sum(fitted(widths, needs)) == pytest.approx(sum(widths))
