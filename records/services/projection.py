"""Project a treatment's document into register columns, terms and product lines; nothing else writes them."""

from collections.abc import Collection, Iterable, Iterator
from datetime import date
from fractions import Fraction

from records.document.amounts import product_applied
from records.document.computed import Amount
from records.document.days import treatment_day
from records.document.types import Mix, Product, TreatmentDocument
from records.models import Treatment, TreatmentProduct
from records.register.terms import (
    CANT_TELL,
    NOT_MET,
    OF_DOCUMENT,
    of_rules,
    order_key,
    strongest_wind,
    terms_of,
)
from records.services.findable import keep_terms
from shared.orm.quantities import projected
from shared.quantities import Quantity
from shared.times import local_day, read_time

SEPARATOR = "; "


def project(treatment: Treatment, document: TreatmentDocument) -> None:
    """Set the register columns from the document, save the treatment, write terms and product lines anew."""
    lines = set_columns(treatment, document)
    treatment.save()
    keep_terms(treatment, OF_DOCUMENT, terms_of(document))
    TreatmentProduct.objects.for_firm(treatment.firm).filter(treatment=treatment).delete()
    TreatmentProduct.objects.bulk_create(lines)


def set_columns(treatment: Treatment, document: TreatmentDocument) -> list[TreatmentProduct]:
    """Set the register columns from the document; the product lines that go with them. Nothing is saved.

    A document without any time is put on the day for which the treatment was planned last.
    """
    lines = list(_lines(treatment, document))
    if document.timing and document.timing.planned_at:
        treatment.planned_at = read_time(document.timing.planned_at)
    treatment.day = treatment_day(document) or local_day(treatment.planned_at, treatment.firm.time_zone)
    treatment.site_name = _name(document.site)
    treatment.customer_name = _name(document.customer)
    treatment.applicators = _joined(each.name for each in document.people or [] if each.role != "helper")
    treatment.products = _joined(_said(line) for line in lines)
    treatment.result = document.record.result or ""
    treatment.treated_area = projected(_treated_area(document))
    treatment.strongest_wind = projected(strongest_wind(document))
    treatment.site_key, treatment.customer_key = map(order_key, (treatment.site_name, treatment.customer_name))
    return lines


def set_outcome(treatment: Treatment, outcome: str) -> None:
    """Keep the outcome of the last check as the register shows it; it says nothing to records."""
    Treatment.objects.for_firm(treatment.firm).filter(pk=treatment.pk).update(outcome=outcome)
    treatment.outcome = outcome


def set_found(
    treatment: Treatment, not_met: Collection[str], cant_tell: Collection[str], wind_limit: Fraction | None
) -> None:
    """Keep which rules the last check found open, by their ids, and the strictest wind limit that it named."""
    limit = projected(wind_limit)
    Treatment.objects.for_firm(treatment.firm).filter(pk=treatment.pk).update(wind_limit=limit)
    treatment.wind_limit = limit
    found = of_rules(NOT_MET, not_met) | of_rules(CANT_TELL, cant_tell)
    keep_terms(treatment, (NOT_MET, CANT_TELL), found)


def set_keep_until(treatment: Treatment, until: date | None) -> None:
    """Keep until when the rules ask to keep it; None: nobody can tell, so it is kept."""
    Treatment.objects.for_firm(treatment.firm).filter(pk=treatment.pk).update(keep_until=until)
    treatment.keep_until = until


def _lines(treatment: Treatment, document: TreatmentDocument) -> Iterator[TreatmentProduct]:
    for mix_index, mix in enumerate(document.mixes or []):
        for index, product in enumerate(mix.products or []):
            applied = product_applied(document, mix_index, index)
            yield _line(treatment, product, _new_share(mix), applied)


def _new_share(mix: Mix) -> Fraction:
    """How much of it was not left over from an earlier treatment, whose record took that from the shelf."""
    loads = mix.loads or []
    if loads and all(load.from_record for load in loads):
        return Fraction(0)
    volumes = [(load.volume.base, bool(load.from_record)) for load in loads if load.volume]
    whole = sum((base for base, _ in volumes), Fraction(0))
    if not whole or len(volumes) < len(loads):
        return Fraction(1)
    return 1 - sum((base for base, old in volumes if old), Fraction(0)) / whole


def _line(treatment: Treatment, product: Product, new: Fraction, applied: object) -> TreatmentProduct:
    base = applied.base if isinstance(applied, Amount) else None
    dimension = applied.dimension if isinstance(applied, Amount) else None
    return TreatmentProduct(
        firm=treatment.firm,
        treatment=treatment,
        name=product.name or "",
        registration_number=product.registration_number or "",
        lot=product.lot or "",
        mixed_volume=_base_if(product.amount, "volume", new),
        mixed_mass=_base_if(product.amount, "mass", new),
        applied_volume=projected(base) if dimension == "volume" else None,
        applied_mass=projected(base) if dimension == "mass" else None,
    )


def _base_if(quantity: Quantity | None, dimension: str, share: Fraction) -> object:
    """A share of it in the base unit; None for nothing of it, or another dimension."""
    return projected(quantity.base * share) if quantity and quantity.dimension == dimension and share else None


def _treated_area(document: TreatmentDocument) -> Fraction | None:
    areas = [surface.treated_area.base for surface in document.surfaces or [] if surface.treated_area]
    return sum(areas, Fraction(0)) if areas else None


def _name(part: object) -> str:
    return getattr(part, "name", None) or ""


def _said(line: TreatmentProduct) -> str:
    return f"{line.name} ({line.registration_number})" if line.registration_number else line.name


def _joined(names: Iterable[str | None]) -> str:
    return SEPARATOR.join(dict.fromkeys(name for name in names if name))
