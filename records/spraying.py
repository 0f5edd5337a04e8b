"""Sprayer output: calibration, coverage, flow at a pressure, wear.

Catches are timed in seconds. Everything is exact but the square root of pressure; results are given to six
significant digits in the unit asked for.
"""

from collections.abc import Sequence
from fractions import Fraction

from shared.geometry import square_root
from shared.quantities import Quantity, from_base

# A catch in fluid ounces over this plot is the output in gallons per acre, since an acre is 128 such plots
# and a gallon 128 fluid ounces. Source: county extension leaflets on the 1/128 acre method.
PLOT_OF_ONE_128TH_ACRE = Quantity("340.3125", "ft**2")

# The plot on which a handgun is timed: gallons caught are gallons per 1000 square feet. Source: Pesticide
# Environmental Stewardship, Spray Gun.
HANDGUN_PLOT = Quantity("1000", "ft**2")

# Source: nozzle training slides; Illinois and Maryland applicator study questions (10 %).
WORN_ABOVE = Fraction(10, 100)

# Source: Pesticide Environmental Stewardship, Spray Gun (recalibrate above 5 % from the label rate).
RECALIBRATE_ABOVE = Fraction(5, 100)

_SECONDS_A_MINUTE = 60


def course_length(plot: Quantity, swath: Quantity, unit: str = "ft") -> Quantity:
    """How far to walk, spraying a swath of this width, to cover the plot."""
    return from_base(plot.base / swath.base, unit)


def mean(measured: Sequence[Fraction]) -> Fraction:
    """The average of repeated timings or catches; a calibration takes at least three."""
    return sum(measured, Fraction(0)) / len(measured)


def flow_caught(caught: Quantity, seconds: Fraction, unit: str = "gal/min") -> Quantity:
    """The flow that fills a vessel with the volume caught in this time."""
    return from_base(caught.base * _SECONDS_A_MINUTE / seconds, unit)


def coverage_caught(caught: Quantity, plot: Quantity, unit: str) -> Quantity:
    """Finished mix per area, when `caught` is what runs out in the time that the plot takes."""
    return from_base(caught.base / plot.base, unit)


def speed_over(length: Quantity, seconds: Fraction, unit: str = "mph") -> Quantity:
    """The speed over a measured course. Source: Oklahoma State turf fact sheet (mph = ft x 60 / (s x 88))."""
    return from_base(length.base / seconds, unit)


def coverage_moving(flow: Quantity, speed: Quantity, width: Quantity, unit: str) -> Quantity:
    """Finished mix per area from one tip moved at a speed over a width.

    Source: UF/IFAS WG013 (gal/acre = 5940 x gal/min / (mph x inches); 5940 is exact).
    """
    return from_base(flow.base / (speed.base * _SECONDS_A_MINUTE * width.base), unit)


def flow_needed(coverage: Quantity, speed: Quantity, width: Quantity, unit: str = "gal/min") -> Quantity:
    """The flow of one tip that gives a coverage at a speed over a width (`coverage_moving` turned round)."""
    return from_base(coverage.base * speed.base * _SECONDS_A_MINUTE * width.base, unit)


def area_covered(volume: Quantity, coverage: Quantity, unit: str) -> Quantity:
    """The area that a volume of finished mix treats at a coverage."""
    return from_base(volume.base / coverage.base, unit)


def time_to_spray(volume: Quantity, flow: Quantity, unit: str = "min") -> Quantity:
    """How long the volume takes to run out at the flow."""
    return from_base(volume.base / flow.base, unit)


def flow_at_pressure(rated: Quantity, rated_at: Quantity, pressure: Quantity) -> Quantity:
    """A tip's flow at another pressure, in the unit of `rated`: flow goes with the square root of pressure.

    Source: nozzle training slides (four times the pressure doubles the flow); Cornell Grape Pest
    Guidelines 2024.
    """
    return from_base(rated.base * square_root(pressure.base / rated_at.base), rated.unit)


def is_worn(flow: Quantity, new_tip: Quantity, allowed: Fraction = WORN_ABOVE) -> bool:
    """Whether a tip passes more than the allowed share over the flow of a new one at the same pressure."""
    return flow.base > new_tip.base * (1 + allowed)


def needs_recalibration(measured: Quantity, wanted: Quantity, allowed: Fraction = RECALIBRATE_ABOVE) -> bool:
    """Whether a measured coverage departs, up or down, by more than the allowed share from the wanted one."""
    return abs(measured.base - wanted.base) > wanted.base * allowed
