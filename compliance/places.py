"""What the places of a document leave open: no law without a place, no place of the address unasked. Pure."""

import re
from collections.abc import Iterator, Sequence

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.facts import Paths
from compliance.rulebook.finding import Finding
from compliance.rulebook.places import FEDERAL, is_wide, widened, without_a_state
from compliance.rulebook.wordings import Sentence
from compliance.untold import untold
from records.document.types import Address, Site, TreatmentDocument
from shared.us_places import state_code
from shared.wording import Blanks, Wording

_PLACES = "site.jurisdictions"
_US = "us"
_STATE = re.compile(r"[A-Za-z0-9]{1,3}")


def open_places(document: TreatmentDocument) -> list[Finding]:
    """Which law applies can't be told: without jurisdictions, and where they leave out the state of a federal
    country or a place that the site's address names: by its ISO 3166 code, or by its name."""
    site = document.site or Site()
    if not site.jurisdictions:
        return [_finding("places", (_PLACES,), "places_missing", {"members": VOCABULARY.label(_PLACES)})]
    named = list(_left_out(site.address or Address(), site.jurisdictions))
    found = [
        _finding("places/address", (_PLACES, about), "place_of_address", {"place": place})
        for place, about in named
    ]
    return found or [
        _finding("places/state", (_PLACES,), "no_state", {"country": country})
        for country in without_a_state(site.jurisdictions)
    ]


def county_not_named(document: TreatmentDocument) -> list[Sentence]:
    """That the county of the site is not among its jurisdictions, so that no local rules were asked."""
    site = document.site or Site()
    narrow = [place for place in site.jurisdictions or [] if place.count("-") > 1 and not is_wide(place)]
    return [Sentence("county_not_named", {"county": site.county})] if site.county and not narrow else []


def _left_out(address: Address, places: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The narrowest place of an address that the places do not hold, with the member that names it."""
    country, known = _country_of(address, places), widened(places)
    if country is None:
        return
    state = f"{country}-{_region_of(country, address.region or '')}"
    if country in FEDERAL and not state.endswith("-") and state not in known:
        yield state, "site.address.region"
    elif address.country and country not in known:
        yield country, "site.address.country"


def _country_of(address: Address, places: Sequence[str]) -> str | None:
    """The country of an address; one that states none lies in the United States where its region is a state by
    name, or by its two letters and no other country is among the places."""
    if address.country:
        return address.country.lower()
    region = address.region or ""
    named = state_code(region) and len(region.replace(".", "").strip()) > 2
    elsewhere = any(country != _US for country in (place.split("-")[0] for place in places))
    return _US if named or (state_code(region) and not elsewhere) else None


def _region_of(country: str, region: str) -> str:
    """The code of a region; nothing for a name that is none of the names known here."""
    code = state_code(region) if country == _US else None
    bare = region.replace(".", "").strip()
    return code or (bare.lower() if _STATE.fullmatch(bare) else "")


def _finding(rule: str, about: Paths, wording: str, blanks: Blanks) -> Finding:
    title = Wording("Which law applies", "Qué ley se aplica")
    return untold(rule, title, "before", "the law of the place of treatment", wording, about, blanks)
