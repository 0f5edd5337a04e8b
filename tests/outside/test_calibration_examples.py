"""Sprayer calibration against worked examples of the trade, each with its source."""

from fractions import Fraction

import pytest

from records import spraying
from shared.quantities import parse
from tests.outside.check_values import rows

ROWS = rows("calibration.csv")


def argument(name: str, text: str) -> object:
    if name == "unit":
        return text
    return Fraction(text) if name == "seconds" else parse(text)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_worked_example_comes_out_as_published(row):
    given = dict(item.split("=") for item in row["inputs"].split("; "))
    formula = getattr(spraying, row["formula"])
    result = formula(**{name: argument(name, text) for name, text in given.items()})
    expected = parse(row["expected"])

    assert abs(result.to(expected.unit) - expected.exact) <= Fraction(row["tolerance"])


def test_every_worked_example_names_its_source():
    assert all(row["source"] for row in ROWS)


def test_timings_are_averaged():
    """Source: Pesticide Environmental Stewardship, Spray Gun (77, 79 and 78 s give 78 s)."""
    assert spraying.mean([Fraction(77), Fraction(79), Fraction(78)]) == 78


def test_catches_are_averaged_without_cutting_short():
    """Source: a sprayer maker's manual, whose printed 490 mL is cut short."""
    assert spraying.mean([Fraction(475), Fraction(507), Fraction(504)]) == Fraction(1486, 3)


@pytest.mark.parametrize(
    ("new_tip", "upper"), [("0.40 gal/min", "0.44 gal/min"), ("0.80 gal/min", "0.88 gal/min")]
)
def test_a_tip_is_worn_above_ten_percent_over_a_new_one(new_tip, upper):
    """Source: a sprayer maker's manual (bands of 0.36 to 0.44 and 0.72 to 0.88 gal/min)."""
    just_over = parse(upper.replace(" ", "1 "))

    assert not spraying.is_worn(parse(upper), parse(new_tip))
    assert spraying.is_worn(just_over, parse(new_tip))


def test_a_rig_is_recalibrated_when_more_than_five_percent_off_the_label_rate():
    """Source: Pesticide Environmental Stewardship, Spray Gun."""
    wanted = parse("5 gal/1000 ft2")

    assert not spraying.needs_recalibration(parse("5.25 gal/1000 ft2"), wanted)
    assert not spraying.needs_recalibration(parse("4.75 gal/1000 ft2"), wanted)
    assert spraying.needs_recalibration(parse("5.26 gal/1000 ft2"), wanted)
    assert spraying.needs_recalibration(parse("4.74 gal/1000 ft2"), wanted)


def test_a_plot_of_the_128th_part_of_an_acre_turns_ounces_into_gallons_per_acre():
    """Source: county extension leaflets on the 1/128 acre method; an acre of 43,560 square feet."""
    assert spraying.PLOT_OF_ONE_128TH_ACRE.base * 128 == parse("1 acre").base
