"""The ranges of the wind's forces as they are printed."""

import pytest

from records.forms.beaufort import RANGES
from shared.quantities import Quantity

PRINTED = {
    # WMO-No. 306, Manual on Codes, Volume I.1, section E: Beaufort scale of wind, forces 0 to 6
    "knot": [(None, "1"), ("1", "3"), ("4", "6"), ("7", "10"), ("11", "16"), ("17", "21"), ("22", "27")],
    "m/s": [
        ("0", "0.2"),
        ("0.3", "1.5"),
        ("1.6", "3.3"),
        ("3.4", "5.4"),
        ("5.5", "7.9"),
        ("8.0", "10.7"),
        ("10.8", "13.8"),
    ],
    # National Weather Service, Tampa Bay: Beaufort wind scale
    "mph": [(None, "1"), ("1", "3"), ("4", "7"), ("8", "12"), ("13", "18"), ("19", "24"), ("25", "31")],
}


@pytest.mark.parametrize("unit", PRINTED)
def test_the_ranges_are_those_that_are_printed(unit):
    said = [(None if least == "0" and unit != "m/s" else least, most) for least, most in RANGES[unit]]
    assert said == PRINTED[unit]


def test_the_same_force_is_about_the_same_wind_in_every_unit():
    """Bounds are rounded to whole numbers in their unit: they differ by less than one knot (0.52 m/s)."""
    for number in range(1, len(RANGES["knot"])):
        tops = [Quantity(ranges[number][1], unit).base for unit, ranges in RANGES.items()]
        assert max(tops) - min(tops) < Quantity("1", "knot").base
