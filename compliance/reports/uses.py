"""What one signed document says was used, product by product, with all that a report may ask of it. Pure."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from records.document.amounts import product_applied
from records.document.areas import treated_by
from records.document.computed import Amount, NoAmount
from records.document.days import treatment_day
from records.document.types import Address, Product, Surface, TreatmentDocument
from shared.values import Value


class Source(Value, frozen=True):
    """A signed version; `id` is that of its treatment."""

    id: str
    number: str
    version: int
    digest: str


class Use(Value, frozen=True):
    """One product of one mix, as it was applied. `surfaces` are the kinds of what it went on."""

    source: Source
    day: date | None
    county: str
    site_use: str
    surfaces: tuple[str, ...]
    place: str
    address: str
    started: str
    product: Product
    applied: Amount | NoAmount


class Area(Value, frozen=True):
    """The treated area of one surface, in m²; None where it is not stated."""

    source: Source
    county: str
    kind: str
    name: str
    square_metres: Fraction | None


def is_report_of_work(document: TreatmentDocument) -> bool:
    """Whether something was done: a day stood down used nothing."""
    return document.record.result != "stood-down"


def uses_of(document: TreatmentDocument, source: Source) -> Iterator[Use]:
    """Each product line; none of a day that was stood down."""
    if not is_report_of_work(document):
        return
    site, timing = document.site, document.timing
    said: dict[str, Any] = {
        "source": source,
        "day": treatment_day(document),
        "county": (site and site.county) or "",
        "site_use": (site and site.use) or "",
        "place": (site and site.name) or "",
        "address": _line(site.address if site else None),
        "started": (timing and timing.started_at) or "",
    }
    for number, mix in enumerate(document.mixes or []):
        surfaces = tuple(sorted({each.kind or "" for each in _of_mix(document, number)} - {""}))
        for place, product in enumerate(mix.products or []):
            applied = product_applied(document, number, place)
            yield Use(**said, surfaces=surfaces, product=product, applied=applied)


def areas_of(document: TreatmentDocument, source: Source) -> Iterator[Area]:
    """Each surface that a mix went on, once."""
    if not is_report_of_work(document):
        return
    county = (document.site and document.site.county) or ""
    of_mixes = (
        index for mix in range(len(document.mixes or ())) for index in treated_by(document, mix).surfaces
    )
    for index in sorted(set(of_mixes)):
        surface = (document.surfaces or [])[index]
        area = surface.treated_area.base if surface.treated_area else None
        yield Area(source, county, surface.kind or "", surface.name or "", area)


def _of_mix(document: TreatmentDocument, mix: int) -> list[Surface]:
    return [(document.surfaces or [])[index] for index in treated_by(document, mix).surfaces]


def _line(address: Address | None) -> str:
    if address is None:
        return ""
    town = " ".join(part for part in (address.city, address.region, address.postcode) if part)
    return ", ".join(part for part in (address.line1, address.line2, town) if part)
