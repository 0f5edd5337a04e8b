"""What was applied and what was left over follow from what was mixed."""

import pytest

from records.forms.amounts_left import applied_of, left_over_of, nothing_left


def gal(value: str) -> dict[str, str]:
    return {"value": value, "unit": "gal"}


MIX = {"products": [{"amount": gal("1.5")}], "diluent": {"amount": gal("13.5")}}


def test_all_that_was_mixed_is_offered_as_applied():
    assert applied_of({}, MIX) == gal("15")


def test_what_is_left_over_was_not_applied_and_the_other_way_round():
    assert applied_of({}, MIX | {"left_over": {"amount": gal("2")}}) == gal("13")
    assert left_over_of({}, MIX | {"applied": gal("14")}) == gal("1")


def test_loads_count_where_they_are_known():
    assert applied_of({}, MIX | {"loads": [{"volume": gal("10")}, {"volume": gal("8")}]}) == gal("18")


def test_units_are_brought_to_that_of_the_last_amount():
    mix = {"products": [{"amount": {"value": "500", "unit": "mL"}}]}
    mix["diluent"] = {"amount": {"value": "9.5", "unit": "L"}}
    assert applied_of({}, mix) == {"value": "10", "unit": "L"}


@pytest.mark.parametrize(
    "mix",
    [
        {},
        {"products": [{"amount": gal("1")}, {}], "diluent": {"amount": gal("5")}},
        {"products": [{"amount": {"value": "2", "unit": "lb"}}], "diluent": {"amount": gal("5")}},
        MIX | {"left_over": {"amount": gal("20")}},
        MIX | {"left_over": {"amount": "some"}},
    ],
)
def test_nothing_is_offered_while_an_amount_is_unknown_no_volume_or_more_than_all(mix):
    assert applied_of({}, mix) is None


def test_nothing_is_offered_as_left_over_before_it_is_said_what_was_applied():
    assert left_over_of({}, MIX) is None


def test_where_all_that_was_mixed_is_applied_nothing_is_left_unless_something_else_is_said():
    assert nothing_left(MIX) == {"left_over.disposition": "none"}
    assert nothing_left(MIX | {"left_over": {"amount": gal("2")}}) == {}
