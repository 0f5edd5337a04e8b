"""Exact conversion factors, worked out once by pint from our own definitions.

The definitions are ours because pint's own acre is the survey acre (43,560.17 ft²) and its parser reads
scaled units such as `gal/(100 ft**2)` otherwise than the trade does. Pint computes with fractions
throughout, so every factor is exact.

Sources: international yard and pound (0.9144 m, 0.453 592 37 kg) and the US gallon of 231 in³: NIST
Handbook 44, appendix C. Acre of 43,560 square feet: same, on the international foot since 2023. Knot of
1,852 m, bar, standard gravity 9.806 65 m/s²: NIST SP 811, appendix B. Degree Fahrenheit: same, B.9.
"""

from fractions import Fraction

import pint

_DEFINITIONS = """
m = [length]
kg = [mass]
s = [time]
K = [temperature]; offset: 0
degree = [angle]

mm = m / 1000
cm = m / 100
km = 1000 * m
yd = 9144 * m / 10000
ft = yd / 3
inch = yd / 36
mi = 1760 * yd
acre = 43560 * ft ** 2
ha = 10000 * m ** 2

L = m ** 3 / 1000
mL = L / 1000
gal = 231 * inch ** 3
qt = gal / 4
pt = gal / 8
cup = gal / 16
fl_oz = gal / 128

g = kg / 1000
lb = 45359237 * kg / 100000000
oz = lb / 16

min = 60 * s
hour = 60 * min
h = hour
day = 24 * hour
mph = mi / hour
knot = 1852 * m / hour

Pa = kg / m / s ** 2
kPa = 1000 * Pa
bar = 100000 * Pa
psi = lb * 980665 * m / 100000 / s ** 2 / inch ** 2

degC = K; offset: 27315 / 100
degF = 5 / 9 * K; offset: 27315 / 100 - 160 / 9

percent = 1 / 100
ppm = 1 / 1000000
"""


def _registry() -> "pint.UnitRegistry[Fraction]":
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    for line in _DEFINITIONS.split("\n"):
        if line:
            registry.define(line)
    return registry


_REGISTRY = _registry()


def conversion(unit: str, base: str) -> tuple[Fraction, Fraction]:
    """Factor and offset that take a value in `unit` to `base`: base value = factor x value + offset.

    Units are written as in the unit table; a number inside brackets scales the unit (`gal/(100 ft**2)`).
    """
    return _slope(unit, base), _in_base(0, unit, base)


def _slope(unit: str, base: str) -> Fraction:
    return _in_base(1, unit, base) - _in_base(0, unit, base)


def _in_base(value: int, unit: str, base: str) -> Fraction:
    expression = _REGISTRY.parse_expression(unit.replace(" ", "*"))
    magnitude, units = Fraction(expression.magnitude), expression.units
    return Fraction(_REGISTRY.Quantity(value * magnitude, units).to(base).magnitude)
