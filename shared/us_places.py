"""States and counties of the United States by the names that people write. From memory."""

import re
from collections.abc import Mapping

STATES: Mapping[str, str] = {
    "alabama": "al", "alaska": "ak", "arizona": "az", "arkansas": "ar", "california": "ca", "colorado": "co",
    "connecticut": "ct", "delaware": "de", "district of columbia": "dc", "florida": "fl", "georgia": "ga",
    "hawaii": "hi", "idaho": "id", "illinois": "il", "indiana": "in", "iowa": "ia", "kansas": "ks",
    "kentucky": "ky", "louisiana": "la", "maine": "me", "maryland": "md", "massachusetts": "ma",
    "michigan": "mi", "minnesota": "mn", "mississippi": "ms", "missouri": "mo", "montana": "mt",
    "nebraska": "ne", "nevada": "nv", "new hampshire": "nh", "new jersey": "nj", "new mexico": "nm",
    "new york": "ny", "north carolina": "nc", "north dakota": "nd", "ohio": "oh", "oklahoma": "ok",
    "oregon": "or", "pennsylvania": "pa", "rhode island": "ri", "south carolina": "sc",
    "south dakota": "sd", "tennessee": "tn", "texas": "tx", "utah": "ut", "vermont": "vt",
    "virginia": "va", "washington": "wa", "washington dc": "dc", "west virginia": "wv",
    "wisconsin": "wi", "wyoming": "wy",
}  # fmt: skip
NEW_YORK_CITY = "New York City"
BOROUGHS = ("Bronx", "Kings", "New York", "Queens", "Richmond")
"""The counties that make up New York City."""

_NEW_YORK = (
    "Albany", "Allegany", "Bronx", "Broome", "Cattaraugus", "Cayuga", "Chautauqua", "Chemung", "Chenango",
    "Clinton", "Columbia", "Cortland", "Delaware", "Dutchess", "Erie", "Essex", "Franklin", "Fulton",
    "Genesee", "Greene", "Hamilton", "Herkimer", "Jefferson", "Kings", "Lewis", "Livingston", "Madison",
    "Monroe", "Montgomery", "Nassau", "New York", "Niagara", "Oneida", "Onondaga", "Ontario", "Orange",
    "Orleans", "Oswego", "Otsego", "Putnam", "Queens", "Rensselaer", "Richmond", "Rockland",
    "St. Lawrence", "Saratoga", "Schenectady", "Schoharie", "Schuyler", "Seneca", "Steuben", "Suffolk",
    "Sullivan", "Tioga", "Tompkins", "Ulster", "Warren", "Washington", "Wayne", "Westchester", "Wyoming",
    "Yates", NEW_YORK_CITY,
)  # fmt: skip
_ALSO = {
    "brooklyn": "Kings",
    "manhattan": "New York",
    "staten island": "Richmond",
    "saint lawrence": "St. Lawrence",
    "nyc": NEW_YORK_CITY,
    "city of new york": NEW_YORK_CITY,
}
_BEFORE = re.compile(r"(the )?(county|borough) of |the ")
_COUNTY_BEFORE = re.compile(r"^(the )?county of |^(el )?condado de ", re.IGNORECASE)
_COUNTY_AFTER = re.compile(r"(?<=\S) (county|cnty|co\.?)$", re.IGNORECASE)
_AFTER = re.compile(r"(?<=\S) (county|co|cnty|borough)")


def state_code(text: str) -> str | None:
    """The code of a state that is written as its name or its two letters: `Oregon`, `OR`, `N.Y.`."""
    folded = _folded(text)
    letters = folded.replace(" ", "")
    return STATES.get(folded) or (letters if letters in STATES.values() else None)


def county_name(text: str) -> str:
    """The county's own name, in any State: `Quill County`, `County of Quill, WA` and `quill` are one."""
    bare = " ".join(text.split(",")[0].split())
    return _COUNTY_AFTER.sub("", _COUNTY_BEFORE.sub("", bare, count=1)) or bare


def new_york_county(text: str) -> str | None:
    """The county of New York that a text names, or the city; None if it names none, or two."""
    parts = [part for part in re.split(r"[()/]", text) if part.strip()]
    found = {_county(_folded(part)) for part in parts}
    return found.pop() if len(found) == 1 else None


def _county(folded: str) -> str | None:
    without_state = re.sub(r"(?<=\S) (new york|n y|ny)$", "", folded)
    for name in (folded, without_state):
        bare = _AFTER.sub("", _BEFORE.sub("", name, count=1)) if name not in _COUNTIES else name
        if bare in _COUNTIES:
            return _COUNTIES[bare]
    return None


def _folded(text: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", text.replace(".", "").casefold()))


_COUNTIES = {**{_folded(name): name for name in _NEW_YORK}, **_ALSO}
