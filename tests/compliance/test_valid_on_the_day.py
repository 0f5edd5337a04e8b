"""A table says of a licence or a label that it was valid on the day only where the record states its days."""

import pytest

from compliance.request_bundle.worked_out import OfRecord

FILE = {
    "record": {"record": {"number": "2026-0142"}},
    "sections": {"timing": {"started_at": "2026-09-14T09:12:00-07:00"}},
}


@pytest.mark.parametrize(
    ("span", "said"),
    [
        ({"valid_from": "2026-01-01", "valid_to": "2026-12-31"}, "yes"),
        ({"valid_from": "2026-09-14", "valid_to": "2026-09-14"}, "yes"),
        ({"valid_from": "2026-01-01"}, "yes"),
        ({"valid_to": "2026-09-13"}, "no"),
        ({"valid_from": "2026-09-15", "valid_to": None}, "no"),
        ({"valid_from": None, "valid_to": None}, ""),
        ({}, ""),
        (None, ""),
    ],
)
def test_it_is_told_by_the_days_that_are_stated_and_by_nothing_else(span, said):
    assert OfRecord(FILE).within(span) == said
