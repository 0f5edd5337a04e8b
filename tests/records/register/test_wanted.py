"""What a register is asked for can be kept as data and read again."""

from datetime import date

import pytest

from records.register.wanted import RegisterFilter, filter_of
from shared.quantities import Quantity

MUCH = RegisterFilter(
    day_from=date(2026, 5, 1), day_to=date(2026, 7, 31), product="99999-12", place="us-wa",
    wind_least=Quantity("7.5", "mph"), words="heron row",
)  # fmt: skip


def test_a_filter_is_kept_as_text_and_read_again_with_its_digits_and_units():
    stored = MUCH.as_json()
    assert stored == {
        "day_from": "2026-05-01", "day_to": "2026-07-31", "place": "us-wa", "product": "99999-12",
        "wind_least": "7.5 mph", "words": "heron row",
    }  # fmt: skip
    assert filter_of(stored) == MUCH


def test_what_is_not_asked_for_is_not_kept():
    assert RegisterFilter().as_json() == {}
    assert filter_of({}) == RegisterFilter()


@pytest.mark.parametrize(
    "stored", [{"shoe_size": "9"}, {"day_from": "May"}, {"wind_least": "much"}, {"wind_most": "3 gal"}]
)
def test_what_no_filter_would_have_written_is_refused(stored):
    with pytest.raises(ValueError, match=r"."):
        filter_of(stored)
