"""What a tank took off the shelf is not taken again by the treatments that draw from it."""

from datetime import date
from fractions import Fraction

from records.shelf import Size
from records.stock_draws import Use, drawn, in_tank, settled

WASH = {"name": "Sample Moss Wash", "lot": "L-1", "amount": {"value": "3", "unit": "L"}}


def meant(line):
    return line.get("lot") == "L-1"


def litres(base):
    return Size("volume", Fraction(base))


def use(day, taken, *draws, key="t"):
    return Use(key, date(2026, 5, day), [litres(taken)] if taken is not None else [], list(draws))


def told(entries):
    return [(entry.key, entry.amount.base) for entry in entries]


def test_a_tank_holds_what_was_put_in_of_the_lot():
    other = {**WASH, "lot": "L-2"}
    assert in_tank([WASH, other, WASH], meant) == litres(6)
    assert in_tank([other], meant) is None


def test_what_a_mix_drew_of_tanks_is_shared_out_by_volume():
    loads = [
        {"batch": "a", "volume": {"value": "20", "unit": "L"}},
        {"batch": "b", "volume": {"value": "10", "unit": "L"}},
    ]
    mixes = [{"products": [WASH], "loads": loads}, {"products": [WASH]}]
    assert list(drawn(mixes, meant)) == [("a", litres(2)), ("b", litres(1))]


def test_a_part_that_was_mixed_on_the_spot_is_no_draw():
    loads = [{"batch": "a", "volume": {"value": "10", "unit": "L"}}, {"volume": {"value": "20", "unit": "L"}}]
    assert list(drawn([{"products": [WASH], "loads": loads}], meant)) == [("a", litres(1))]


def test_a_lone_draw_without_a_volume_is_all_of_the_mix():
    assert list(drawn([{"products": [WASH], "loads": [{"batch": "a"}]}], meant)) == [("a", litres(3))]


def test_draws_take_from_the_tank_and_only_what_goes_beyond_it_from_the_shelf():
    uses = [
        use(2, 2, ("a", litres(2)), key="second"),
        use(1, 2, ("a", litres(2)), key="first"),
        use(3, 1, key="own"),
    ]
    assert told(settled(uses, {"a": litres(3)})) == [("first", 0), ("second", 1), ("own", 1)]


def test_what_is_about_to_be_drawn_is_still_there_for_who_draws_it():
    assert told(settled([use(1, None, ("a", litres(2)))], {"a": litres(3)})) == [("t", -2)]


def test_a_draw_of_a_tank_that_nobody_knows_is_taken_from_the_shelf():
    assert told(settled([use(1, 2, ("gone", litres(2)))], {})) == [("t", 2)]
