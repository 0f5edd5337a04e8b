"""The one place that writes reference rows into a treatment document, as they stand on the day.

Each `*_part` gives JSON values in the document's shape, with members that are empty left out. Licences are
those valid on the day; a label is that of the lot, else the one valid on the day.
"""

from datetime import date
from typing import Any

from django.db.models import Q, QuerySet

from records.models import (
    Customer,
    Feature,
    Firm,
    LabelVersion,
    Licence,
    Lot,
    Person,
    Product,
    Rig,
    Site,
    Surface,
)
from records.models.firms import Address
from shared.quantities import Quantity

Json = dict[str, Any]


def filled(**members: Any) -> Json:
    """The members that say something: text, lists and parts that are empty are left out."""
    return {name: value for name, value in members.items() if value not in (None, "", {})}


def address_part(row: Address) -> Json:
    if not row.line1 and not row.city:
        return {}
    return filled(
        line1=row.line1,
        line2=row.line2,
        city=row.city,
        region=row.region,
        postcode=row.postcode,
        country=row.country,
    )


def firm_part(firm: Firm, day: date) -> Json:
    cover = filled(value=firm.insurance_cover, currency=firm.insurance_cover and firm.insurance_currency)
    return filled(
        id=str(firm.uuid),
        name=firm.name,
        address=address_part(firm),
        phone=firm.phone,
        licences=_licences(Licence.objects.for_firm(firm).filter(person=None), day),
        insurance=filled(insurer=firm.insurer, policy=firm.insurance_policy, cover=cover),
    )


def customer_part(customer: Customer) -> Json:
    return filled(
        id=str(customer.uuid),
        name=customer.name,
        address=address_part(customer),
        phone=customer.phone,
        email=customer.email,
    )


def site_part(site: Site) -> Json:
    return filled(
        id=str(site.uuid),
        name=site.name,
        address=address_part(site),
        county=site.county,
        jurisdictions=site.jurisdictions or None,
        time_zone=site.time_zone,
        position=filled(latitude=site.latitude, longitude=site.longitude),
        use=site.use,
        indoors=site.indoors,
        features=[_feature(feature) for feature in site.features.all()],
    )


def surface_part(surface: Surface) -> Json:
    return filled(
        id=str(surface.uuid),
        name=surface.name,
        kind=surface.kind,
        material=surface.material,
        plan_area=_quantity(surface.plan_area),
        pitch=filled(rise=surface.rise, run=surface.run),
    )


def person_part(person: Person, day: date) -> Json:
    return filled(
        id=str(person.uuid),
        name=person.name,
        role=person.role,
        address=address_part(person),
        phone=person.phone,
        trained_on=_day(person.trained_on),
        licences=_licences(person.licences.all(), day),
    )


def label_on(product: Product, lot: Lot | None, day: date) -> LabelVersion | None:
    """The label on the container: the lot's, else the newest of those valid on the day, else None."""
    if lot is not None:
        return lot.label
    return product.labels.filter(_valid_on(day)).order_by("-valid_from").first()


def product_part(product: Product, lot: Lot | None, day: date) -> Json:
    label = label_on(product, lot, day)
    line = filled(
        id=str(product.uuid),
        name=product.name,
        kind=product.kind,
        regime=product.regime,
        supplier=product.supplier,
        lot=lot and lot.number,
    )
    if label is None:
        return line
    return line | filled(
        registration_number=label.registration_number,
        signal_word=label.signal_word,
        restricted_use=label.restricted_use,
        active_ingredients=label.active_ingredients or None,
        density=_quantity(label.density),
        label=label_part(label),
    )


def label_part(label: LabelVersion) -> Json:
    own = filled(
        id=str(label.uuid),
        version=label.version,
        valid_from=_day(label.valid_from),
        valid_to=_day(label.valid_to),
    )
    return {**label.label, **own}


def rig_part(rig: Rig, day: date) -> Json:
    """The rig with the flow of its last calibration up to the day."""
    calibration = rig.calibrations.filter(on__lte=day).order_by("-on").first()
    return filled(
        id=str(rig.uuid),
        name=rig.name,
        method=rig.method,
        identification=rig.identification,
        tank=_quantity(rig.tank),
        pressure=_quantity(rig.pressure),
        tip=rig.tip,
        backflow=rig.backflow,
        flow=_quantity(calibration and calibration.flow),
        calibrated_on=_day(calibration and calibration.on),
    )


def _feature(feature: Feature) -> Json:
    return filled(
        kind=feature.kind,
        name=feature.name,
        discharges_to=feature.discharges_to,
        distance=_quantity(feature.distance),
        bearing=_quantity(feature.bearing),
    )


def _licences(licences: QuerySet[Licence], day: date) -> list[Json]:
    valid = licences.filter(_valid_on(day)).order_by("authority", "number", "valid_from")
    return [
        filled(
            authority=licence.authority,
            kind=licence.kind,
            number=licence.number,
            holder=licence.holder,
            categories=licence.categories,
            valid_from=_day(licence.valid_from),
            valid_to=_day(licence.valid_to),
        )
        for licence in valid
    ]


def _valid_on(day: date) -> Q:
    return (Q(valid_from=None) | Q(valid_from__lte=day)) & (Q(valid_to=None) | Q(valid_to__gte=day))


def _quantity(quantity: Quantity | None) -> Json | None:
    return None if quantity is None else quantity.as_json()


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
