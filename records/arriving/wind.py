"""The wind as one cell of an old log tells it: `SW 5 mph`, `5-10`, `calm`."""

import re
from typing import Any

from records.imports.faults import refused
from shared.quantities import QuantityError, parse

_POINTS = (
    "n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw",
)  # fmt: skip
_NAMES = {
    "north": "n", "norte": "n", "northeast": "ne", "noreste": "ne", "east": "e", "este": "e",
    "southeast": "se", "sureste": "se", "sudeste": "se", "south": "s", "sur": "s", "southwest": "sw",
    "suroeste": "sw", "sudoeste": "sw",
    "west": "w", "oeste": "w", "northwest": "nw", "noroeste": "nw",
    "o": "w", "no": "nw", "so": "sw", "nno": "nnw", "ono": "wnw", "oso": "wsw", "sso": "ssw",
}  # fmt: skip
_CALM = {"calm", "none", "no wind", "still", "0", "calma", "sin viento", "en calma"}
_VARIABLE = {"variable", "var", "vrb", "shifting", "cambiante"}
_RANGE = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:-|–|to|a)\s*(\d+(?:[.,]\d+)?)\s*(.*)")
_LETTERS = re.compile(r"^([a-z]+)\b[ @,]*|[ @,]+([a-z]+)$")


def read_direction(text: str) -> dict[str, Any]:
    """Members of a reading. Raises FileError."""
    plain = re.sub(r"[\s.-]+", "", text.casefold().removeprefix("from ").removeprefix("del "))
    if plain in _VARIABLE:
        return {"wind_variable": True}
    if plain in _CALM:
        return {}
    if (point := _NAMES.get(plain, plain)) in _POINTS:
        return {"wind_from": {"value": f"{_POINTS.index(point) * 22.5:g}", "unit": "degree"}}
    degrees = plain.removesuffix("°").removesuffix("deg")
    if re.fullmatch(r"\d{1,3}(\.\d{1,4})?", degrees) and float(degrees) <= 360:
        return {"wind_from": {"value": degrees.lstrip("0") or "0", "unit": "degree"}}
    raise refused("direction")


def read_wind(text: str, usual_unit: str) -> dict[str, Any]:
    """Members of a reading; a bare number is in `usual_unit`, '' where none is known. Of a span the upper end
    counts, and the span is told. Raises FileError."""
    plain = text.casefold().strip()
    if plain in _CALM or plain.removesuffix(usual_unit).strip() == "0":
        return {"calm": True}
    read: dict[str, Any] = {}
    if (matched := _LETTERS.search(plain)) and (name := matched[1] or matched[2]):
        known = _NAMES.get(name, name)
        if known in _POINTS or name in _VARIABLE:
            read = read_direction(name)
            plain = (plain[: matched.start()] + plain[matched.end() :]).strip()
    if matched := _RANGE.fullmatch(plain):
        plain = f"{matched[2]} {matched[3]}".strip()
        read["said"] = text
    if not plain:
        return read
    unit = "" if re.search(r"[a-z]", plain) else usual_unit
    try:
        speed = parse(f"{plain} {unit}".strip(), "speed")
    except QuantityError as error:
        raise refused("quantity", why=error) from error
    return {**read, "wind_speed": speed.as_json()}
