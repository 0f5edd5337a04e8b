"""The county of a site, read from what was typed as its county and from its jurisdictions."""

from collections.abc import Sequence

from compliance.rulebook.facts import Leaf
from records.document.types import Site
from shared.us_places import BOROUGHS, NEW_YORK_CITY, county_name, new_york_county
from shared.wording import Wording

_NEW_YORK = "us-ny"
_COUNTY, _PLACES = "site.county", "site.jurisdictions"


def county_of(site: Site | None) -> Leaf:
    """The county's own name. In New York also by other spellings, and only if it is one: a name that is none,
    and a jurisdiction that is another county, leave it open."""
    text = (site.county if site else None) or ""
    places = (site.jurisdictions if site else None) or []
    if not any(f"{place}-".startswith(f"{_NEW_YORK}-") for place in places):
        return Leaf(county_name(text), (_COUNTY,)) if text.strip() else Leaf(None, (_COUNTY,), (_COUNTY,))
    typed, named = new_york_county(text), _of_places(places)
    if text.strip() and typed is None:
        return Leaf(None, (_COUNTY,), (_COUNTY,), _no_county(text.strip()))
    known = _narrowed({*([typed] if typed else []), *named})
    about = (*((_COUNTY,) if typed else ()), *((_PLACES,) if named else ()))
    if len(known) > 1:
        return Leaf(None, about, about, _several(sorted(known)))
    return Leaf(known.pop(), about) if known else Leaf(None, (_COUNTY,), (_COUNTY,))


def _of_places(places: Sequence[str]) -> set[str]:
    rest = (place.removeprefix(f"{_NEW_YORK}-") for place in places if place.startswith(f"{_NEW_YORK}-"))
    return {county for name in rest if (county := new_york_county(name.replace("-", " ")))}


def _narrowed(counties: set[str]) -> set[str]:
    """A county of the city says more than the city."""
    return counties - {NEW_YORK_CITY} if counties & set(BOROUGHS) else counties


def _no_county(text: str) -> Wording:
    return Wording(
        f"“{text}” is no county of New York by a name that is known here",
        f"«{text}» no es un condado de Nueva York con un nombre que se conozca aquí",
    )


def _several(counties: Sequence[str]) -> Wording:
    return Wording(
        f"the site lies in one county, and the record names {' and '.join(counties)}",
        f"el sitio está en un solo condado, y el registro nombra {' y '.join(counties)}",
    )
