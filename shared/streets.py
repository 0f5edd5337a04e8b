"""Street addresses as they are compared: two lists seldom spell one alike. Pure."""

import re
from functools import lru_cache

from shared.folded import unaccented

SHORT = {
    "alley": "aly", "apartment": "unit", "apt": "unit", "av": "ave", "avenida": "ave", "avenue": "ave",
    "boulevard": "blvd", "calle": "c", "camino": "cam", "carretera": "carr", "circle": "cir", "court": "ct",
    "cove": "cv", "crescent": "cres", "drive": "dr", "east": "e", "este": "e", "fl": "floor",
    "fort": "ft", "heights": "hts", "highway": "hwy", "junction": "jct", "lane": "ln", "loop": "lp",
    "mount": "mt", "mountain": "mtn", "norte": "n", "north": "n", "northeast": "ne", "northwest": "nw",
    "oeste": "w", "parkway": "pkwy", "paseo": "pso", "place": "pl", "plaza": "plz", "point": "pt",
    "road": "rd", "route": "rte", "saint": "st", "south": "s", "southeast": "se", "southwest": "sw",
    "space": "unit", "square": "sq", "ste": "unit", "street": "st", "str": "st", "suite": "unit", "sur": "s",
    "terrace": "ter", "trail": "trl", "west": "w",
}  # fmt: skip
"""Words of streets in short. Many as in Publication 28 of the US Postal Service, appendix C (from memory)."""
_NUMBERED = {"rte", "hwy", "rd", "carr", "c", "ave", "st", "ln", "loop", "cam", "trl"}
_UNIT = re.compile(r"\bunit \S+")


@lru_cache(maxsize=32_768)
def folded_street(line1: str, line2: str = "") -> str:
    """`6 Heron Street, Apt. 2` and `6 HERON ST #3` are both `6 heron st`: the house, whoever's door."""
    plain = unaccented(f"{line1} {line2}").replace("#", " unit ")
    words = [SHORT.get(word, word) for word in re.findall(r"[\w/-]+", plain.replace(".", "").replace("'", ""))]
    return _UNIT.sub("", re.sub(r"\bunit unit\b", "unit", " ".join(words))).strip()


def house_of(line1: str, line2: str = "") -> str:
    """The folded address where it has the number of a house; '' for a street alone, which is nobody's door.

    A number behind nothing but the kind of a road is the road's own: `Route 9`, `Calle 5`.
    """
    folded = folded_street(line1, line2)
    street = street_alone(folded)
    ends_with_it = bool(re.fullmatch(re.escape(street) + r"\s+\d+[a-z]?", folded))
    return "" if street == folded or (ends_with_it and street.split(" ")[-1] in _NUMBERED) else folded


def street_alone(folded: str) -> str:
    """Without the number of the house."""
    return re.sub(r"^[\d/-]+[a-z]?\s+|\s+\d+[a-z]?$", "", folded)


def same_town(city: str, postcode: str, other_city: str, other_postcode: str) -> bool:
    """Whether two addresses may be of one town: one with neither word nor number of it may be."""
    codes = [_code(each) for each in (postcode, other_postcode)]
    cities = [folded_street(each) for each in (city, other_city)]
    if all(codes) and codes[0] == codes[1]:
        return True
    if all(cities):
        return cities[0] == cities[1]
    return not all(codes)


def _code(postcode: str) -> str:
    """Of a US ZIP+4 the first five digits."""
    return re.sub(r"^(\d{5})-?\d{4}$", r"\1", postcode.replace(" ", "").casefold())
