"""The wind by what is seen: what a force says of a reading, and how it is known again."""

import pytest

from records.forms.beaufort import RANGES, force_of, forces_in


@pytest.mark.parametrize("unit", RANGES)
def test_a_force_is_known_again_by_what_it_said_of_the_reading(unit):
    for force in forces_in(unit)[1:]:
        found = force_of(force.members())
        assert (found.number, found.unit) == (force.number, unit)


def test_the_upper_end_is_entered_and_said_to_be_an_estimate():
    assert forces_in("km/h")[4].members() == {
        "calm": False,
        "wind_speed": {"value": "28", "unit": "km/h"},
        "source": "estimate",
    }


def test_force_0_is_calm_air_without_a_speed():
    said = forces_in("mph")[0].members()
    assert (said["calm"], said["wind_speed"]) == (True, None)
    assert force_of({"calm": True, "source": "estimate"}).number == 0


@pytest.mark.parametrize(
    "reading",
    [
        {},
        {"source": "anemometer", "wind_speed": {"value": "18", "unit": "mph"}},
        {"source": "estimate", "wind_speed": {"value": "17", "unit": "mph"}},
        {"source": "estimate", "wind_speed": "18ish"},
        {"source": "estimate"},
    ],
)
def test_a_measured_wind_or_another_number_is_no_force(reading):
    assert force_of(reading) is None


def test_a_unit_without_a_range_of_its_own_is_told_in_miles_an_hour():
    assert {force.unit for force in forces_in("degree")} == {"mph"}
