"""The closed table of units: name, dimension, exact factor to the base unit, label in each language."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from shared.quantities.factors import conversion


@dataclass(frozen=True)
class Unit:
    """One unit of the table. A value in it becomes one in the base unit as factor x value + offset.

    `label_en` and `label_es` are for display; `one_en` and `one_es` are the labels for exactly 1.
    """

    name: str
    dimension: str
    factor: Fraction
    offset: Fraction
    label_en: str
    label_es: str
    one_en: str
    one_es: str

    @cached_property
    def ratio(self) -> tuple[int, int]:
        """The factor as numerator and denominator."""
        return self.factor.as_integer_ratio()

    def label(self, language: str, one: bool = False) -> str:
        """The label beside a value; `one` if the value is 1."""
        if language == "es":
            return self.one_es if one else self.label_es
        return self.one_en if one else self.label_en


BASE_UNITS = {
    "length": "m",
    "area": "m**2",
    "volume": "L",
    "mass": "kg",
    "speed": "m/s",
    "temperature": "degC",
    "pressure": "kPa",
    "flow": "L/min",
    "time": "min",
    "angle": "degree",
    "share": "percent",
    "volume_per_area": "L/m**2",
    "mass_per_area": "g/m**2",
    "volume_per_volume": "mL/L",
    "mass_per_volume": "g/L",
    "density": "kg/L",
}

_Row = tuple[str, str, str] | tuple[str, str, str, str, str]

_TABLE: dict[str, list[_Row]] = {
    "length": [
        ("inch", "in", "pulgadas", "in", "pulgada"),
        ("ft", "ft", "pies", "ft", "pie"),
        ("yd", "yd", "yardas", "yd", "yarda"),
        ("mi", "mi", "millas", "mi", "milla"),
        ("mm", "mm", "mm"),
        ("cm", "cm", "cm"),
        ("m", "m", "m"),
        ("km", "km", "km"),
    ],
    "area": [
        ("ft**2", "ft²", "pies²", "ft²", "pie²"),
        ("yd**2", "yd²", "yardas²", "yd²", "yarda²"),
        ("acre", "acres", "acres", "acre", "acre"),
        ("m**2", "m²", "m²"),
        ("ha", "ha", "ha"),
    ],
    "volume": [
        ("gal", "gal", "gal"),
        ("qt", "qt", "qt"),
        ("pt", "pt", "pt"),
        ("cup", "cups", "tazas", "cup", "taza"),
        ("fl_oz", "fl oz", "fl oz"),
        ("mL", "mL", "mL"),
        ("L", "L", "L"),
    ],
    "mass": [("oz", "oz", "oz"), ("lb", "lb", "lb"), ("g", "g", "g"), ("kg", "kg", "kg")],
    "speed": [
        ("mph", "mph", "mi/h"),
        ("knot", "knots", "nudos", "knot", "nudo"),
        ("m/s", "m/s", "m/s"),
        ("km/h", "km/h", "km/h"),
        ("km/hour", "km/h", "km/h"),
    ],
    "temperature": [("degF", "°F", "°F"), ("degC", "°C", "°C")],
    "pressure": [("psi", "psi", "psi"), ("kPa", "kPa", "kPa"), ("bar", "bar", "bar")],
    "flow": [("gal/min", "gal/min", "gal/min"), ("L/min", "L/min", "L/min")],
    "time": [
        ("min", "min", "min"),
        ("hour", "h", "h"),
        ("day", "days", "días", "day", "día"),
    ],
    "angle": [("degree", "°", "°")],
    "share": [("percent", "%", "%"), ("ppm", "ppm", "ppm")],
    "volume_per_area": [
        ("gal/(100 ft**2)", "gal/100 ft²", "gal/100 pies²"),
        ("gal/(1000 ft**2)", "gal/1000 ft²", "gal/1000 pies²"),
        ("gal/acre", "gal/acre", "gal/acre"),
        ("fl_oz/(1000 ft**2)", "fl oz/1000 ft²", "fl oz/1000 pies²"),
        ("L/m**2", "L/m²", "L/m²"),
        ("L/(100 m**2)", "L/100 m²", "L/100 m²"),
        ("L/ha", "L/ha", "L/ha"),
        ("mL/m**2", "mL/m²", "mL/m²"),
    ],
    "mass_per_area": [
        ("oz/(1000 ft**2)", "oz/1000 ft²", "oz/1000 pies²"),
        ("lb/(1000 ft**2)", "lb/1000 ft²", "lb/1000 pies²"),
        ("lb/acre", "lb/acre", "lb/acre"),
        ("g/m**2", "g/m²", "g/m²"),
        ("kg/ha", "kg/ha", "kg/ha"),
    ],
    "volume_per_volume": [
        ("fl_oz/gal", "fl oz/gal", "fl oz/gal"),
        ("pt/(100 gal)", "pt/100 gal", "pt/100 gal"),
        ("qt/(100 gal)", "qt/100 gal", "qt/100 gal"),
        ("mL/L", "mL/L", "mL/L"),
    ],
    "mass_per_volume": [
        ("oz/gal", "oz/gal", "oz/gal"),
        ("lb/(100 gal)", "lb/100 gal", "lb/100 gal"),
        ("g/L", "g/L", "g/L"),
    ],
    "density": [("lb/gal", "lb/gal", "lb/gal"), ("kg/L", "kg/L", "kg/L")],
}


def _units() -> Iterator[Unit]:
    for dimension, rows in _TABLE.items():
        for name, label_en, label_es, *one in rows:
            factor, offset = conversion(name, BASE_UNITS[dimension])
            one_en, one_es = one or (label_en, label_es)
            yield Unit(name, dimension, factor, offset, label_en, label_es, one_en, one_es)


UNITS = {unit.name: unit for unit in _units()}


def units_of(dimension: str) -> list[str]:
    """The names of a dimension's units, in the order of the table."""
    return [unit.name for unit in UNITS.values() if unit.dimension == dimension]
