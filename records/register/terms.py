"""By which names, numbers and words a treatment is found, as its document has them. Pure."""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import NamedTuple

from records.document.types import Address, Product, TreatmentDocument
from shared.folded import sought

SITE, CUSTOMER, COUNTY, PLACE = "site", "customer", "county", "place"
PRODUCT, REGISTRATION, INGREDIENT = "product", "registration", "ingredient"
APPLICATOR, LICENCE, INCIDENT, RESULT = "applicator", "licence", "incident", "result"
NOT_MET, CANT_TELL = "not_met", "cant_tell"
"""Of the rules, by their ids: the last check found it not met, or could not tell."""

OF_DOCUMENT = (
    SITE, CUSTOMER, COUNTY, PLACE, PRODUCT, REGISTRATION, INGREDIENT, APPLICATOR, LICENCE, INCIDENT, RESULT,
)  # fmt: skip
IN_WORDS = (SITE, CUSTOMER, COUNTY, PRODUCT, INGREDIENT, APPLICATOR, LICENCE)
"""What a search for words looks through."""
LONGEST = 300


class Term(NamedTuple):
    """`folded` is what is compared (`compared`), `written` what is shown."""

    kind: str
    folded: str
    written: str


def terms_of(document: TreatmentDocument) -> set[Term]:
    return each_once(_terms(document))


def each_once(terms: Iterable[Term]) -> set[Term]:
    """Each term once, however it is spelled twice; none that is empty."""
    return set({(term.kind, term.folded): term for term in terms if term.folded}.values())


def strongest_wind(document: TreatmentDocument) -> Fraction | None:
    """Of all readings, in m/s; calm air is none. None: no wind was read."""
    readings = (document.weather and document.weather.readings) or []
    speeds = [each.wind_speed.base for each in readings if each.wind_speed]
    speeds += [Fraction(0) for each in readings if each.calm and not each.wind_speed]
    return max(speeds, default=None)


def order_key(name: str) -> str:
    """A name as the register sorts it."""
    return sought(name)[:100]


def compared(text: str) -> str:
    """A name, or what somebody takes for one, as the register keeps names."""
    return sought(text)[:LONGEST]


def of_rules(kind: str, rules: Iterable[str]) -> set[Term]:
    """One term for each rule that the last check found this of."""
    return {term_of(kind, rule) for rule in rules}


def _terms(document: TreatmentDocument) -> Iterator[Term]:
    site, customer = document.site, document.customer
    if site:
        yield term_of(SITE, site.name, *_lines(site.address))
        yield term_of(COUNTY, site.county)
        yield from (term_of(PLACE, place) for place in site.jurisdictions or [])
    if customer:
        yield term_of(CUSTOMER, customer.name)
    for mix in document.mixes or []:
        for product in mix.products or []:
            yield from _of_product(product)
    for person in document.people or []:
        if person.role != "helper":
            yield term_of(APPLICATOR, person.name)
        yield from (term_of(LICENCE, licence.number) for licence in person.licences or [])
    yield from (term_of(INCIDENT, incident.kind) for incident in document.incidents or [])
    yield term_of(RESULT, document.record.result)


def _of_product(product: Product) -> Iterator[Term]:
    number = product.registration_number
    yield term_of(PRODUCT, product.name, f"({number})" if number else None)
    yield term_of(REGISTRATION, number)
    yield from (term_of(INGREDIENT, each.name) for each in product.active_ingredients or [])


def _lines(address: Address | None) -> list[str | None]:
    return [address.line1, address.city, address.postcode] if address else []


def term_of(kind: str, *parts: str | None) -> Term:
    written = " ".join(" ".join(part.split()) for part in parts if part).replace("\0", "")[:LONGEST]
    return Term(kind, compared(written), written)
