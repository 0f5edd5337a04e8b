"""How people write units: the spellings, in English and Spanish, of each unit of the table."""

import re
import unicodedata

from shared.quantities.units import UNITS

_SPELLINGS = {
    "inch": 'inch, inches, in, ", pulgada, pulgadas',
    "ft": "ft, foot, feet, ', pie, pies",
    "yd": "yd, yds, yard, yards, yarda, yardas",
    "mi": "mi, mile, miles, milla, millas",
    "mm": "mm, millimeter, millimeters, millimetre, millimetres, milimetro, milimetros",
    "cm": "cm, centimeter, centimeters, centimetre, centimetres, centimetro, centimetros",
    "m": "m, meter, meters, metre, metres, metro, metros",
    "km": "km, kilometer, kilometers, kilometre, kilometres, kilometro, kilometros",
    "ft**2": "ft2, sq ft, sqft, sf, square foot, square feet, pie2, pies2, pie cuadrado, pies cuadrados",
    "yd**2": "yd2, sq yd, sqyd, square yard, square yards, yarda2, yardas2, yarda cuadrada, yardas cuadradas",
    "acre": "acre, acres, ac",
    "m**2": "m2, sq m, sqm, square meter, square meters, square metre, square metres, metro cuadrado, "
    "metros cuadrados",
    "ha": "ha, hectare, hectares, hectarea, hectareas",
    "gal": "gal, gals, gallon, gallons, galon, galones",
    "qt": "qt, qts, quart, quarts, cuarto, cuartos",
    "pt": "pt, pts, pint, pints, pinta, pintas",
    "cup": "cup, cups, taza, tazas",
    "fl_oz": "fl oz, floz, fluid ounce, fluid ounces, oz fl, onza liquida, onzas liquidas, oz liq",
    "mL": "ml, milliliter, milliliters, millilitre, millilitres, mililitro, mililitros",
    "L": "l, liter, liters, litre, litres, litro, litros",
    "oz": "oz, ounce, ounces, onza, onzas",
    "lb": "lb, lbs, pound, pounds, libra, libras",
    "g": "g, gram, grams, gramo, gramos",
    "kg": "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramo, kilogramos",
    "mph": "mph, mi/h, mi/hr, mile/h, mile/hour, miles/h, miles/hour, milla/hora, millas/hora",
    "knot": "knot, knots, kt, kts, kn, nudo, nudos",
    "m/s": "m/s, m/sec, meter/second, meters/second, metre/second, metres/second, metro/segundo, "
    "metros/segundo",
    "km/h": "km/h, kph, kmh, km/hr, kilometers/hour, kilometres/hour, kilometro/hora, kilometros/hora",
    "km/hour": "km/hour",
    "degF": "degf, deg f, f, °f, ° f, degree f, degrees f, degrees fahrenheit, fahrenheit, "
    "grados f, grados fahrenheit",
    "degC": "degc, deg c, c, °c, ° c, degree c, degrees c, degrees celsius, celsius, "
    "grados c, grados celsius, grados centigrados",
    "psi": "psi, lb/in2, lbs/sq in, lb/sq in",
    "kPa": "kpa",
    "bar": "bar, bars, bares",
    "gal/min": "gpm",
    "L/min": "lpm",
    "min": "min, mins, minute, minutes, minuto, minutos",
    "hour": "hour, hours, h, hr, hrs, hora, horas",
    "day": "day, days, d, dia, dias",
    "degree": "degree, degrees, deg, °, grado, grados",
    "percent": "percent, %, per cent, pct, por ciento",
    "ppm": "ppm, part/million, parts/million, partes/millon",
}

_SCALED = re.compile(r"\(?\s*(?:(1[ ,.]?000|100)(?![0-9])\s*)?([^()]+?)\s*\)?")


def _known() -> dict[str, str]:
    return {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings.split(", ")}


def unit_named(text: str) -> str | None:
    """The unit of the table that a person means by `text`, or None if it is not one that is known.

    A ratio may be written `gal/(100 ft**2)`, `gal/100 sq ft` or `gallons per 1,000 square feet`.
    """
    if text in UNITS:
        return text
    plain = _plain(text)
    if plain in _KNOWN:
        return _KNOWN[plain]
    above, slash, below = plain.partition("/")
    return _ratio(above, below) if slash else None


def _plain(text: str) -> str:
    """Lower case, accents and abbreviation points off, `²` as 2, single spaces, `per` as a slash."""
    text = text.replace("²", "2").replace("º", "°").replace("**", "").replace("^", "").replace("_", " ")
    decomposed = unicodedata.normalize("NFD", text.casefold())
    text = "".join(letter for letter in decomposed if not unicodedata.combining(letter))
    text = re.sub(r"(?<=[a-z])\.", "", text)
    text = re.sub(r"\s*/\s*|(?<=\S)\s+(?:per|por)\s+(?!cent|ciento)", "/", text)
    return " ".join(text.split())


def _ratio(above: str, below: str) -> str | None:
    matched = _SCALED.fullmatch(below)
    numerator = _KNOWN.get(above)
    denominator = _KNOWN.get(matched[2]) if matched else None
    if not (matched and numerator and denominator):
        return None
    scale = re.sub(r"[ ,.]", "", matched[1] or "")
    name = f"{numerator}/({scale} {denominator})" if scale else f"{numerator}/{denominator}"
    return name if name in UNITS else None


_KNOWN = _known()
