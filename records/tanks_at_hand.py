"""The tanks that a treatment may draw from: filled on its day, or left over from the days before."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

from django.db.models import QuerySet

from records import reference
from records.document.amounts import mixed
from records.document.canonical import as_json
from records.document.computed import NoAmount
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA, TreatmentDocument
from records.filled_tank import FilledTank, drawn_before, left_overs, with_ids
from records.models import Batch, Firm, Lot, Product, Treatment
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.quantities import from_base
from shared.times import local_day

Json = dict[str, Any]
LOOKED_BACK = timedelta(days=14)
"""A left-over that is older is none to count on: common practice, no source; the label may say less."""
DRAWS_COME_IN_FOR = 3
"""Days until a phone has surely sent what it drew: our own measure."""
MOST = 60
"""Treatments that are looked at, the newest first."""


def tanks_at_hand(treatment: Treatment, drained: bool = False) -> list[FilledTank]:
    """The tanks of its rigs (of any rig where it names none), the newest first: those with something left, or
    with the `drained` ones, too."""
    rigs = [rig.get("name") for rig in treatment.document.get("equipment") or []]
    others = _others(treatment)
    zone = treatment.site.time_zone or treatment.firm.time_zone
    found = [*_of_the_day(treatment.firm, treatment.day, zone), *_left_over(others)]
    drawing = [treatment.document, *(each.document for each in others)]
    tanks = (_less_draws(tank, drawing) for tank in found if not rigs or not tank.rig or tank.rig in rigs)
    wanted = (tank for tank in tanks if drained or tank.left.base > 0)
    return sorted(wanted, key=lambda tank: tank.at, reverse=True)


def tanks_on_board(firm: Firm, day: date, rigs: set[str]) -> list[FilledTank]:
    """What should be left on that day of tanks that were filled before, on these rigs (on any where none is
    named), the newest first: shared tanks of the day, and left-overs that were kept, also of the day itself."""
    recent = list(_around(firm, day)[:MOST])
    found = [*_of_the_day(firm, day, firm.time_zone), *_left_over(recent)]
    here = (tank for tank in found if not rigs or not tank.rig or tank.rig in rigs)
    tanks = (_less_draws(tank, [each.document for each in recent]) for tank in here)
    return sorted((tank for tank in tanks if tank.left.base > 0), key=lambda tank: tank.at, reverse=True)


def tanks_of_day(firm: Firm, day: date) -> list[FilledTank]:
    """The tanks that were filled on that day by the firm's own clocks, newest first, with the drained ones."""
    drawing = [each.document for each in _around(firm, day)[:MOST]]
    tanks = (_less_draws(tank, drawing) for tank in _of_the_day(firm, day, firm.time_zone))
    return sorted(tanks, key=lambda tank: tank.at, reverse=True)


def overdrawn(firm: Firm, day: date) -> list[FilledTank]:
    """The tanks of the last days from which more was drawn than was in them, as crews without a signal may who
    do not see each other's draws."""
    days = (day - timedelta(days=back) for back in range(DRAWS_COME_IN_FOR))
    return [tank for each in days for tank in tanks_of_day(firm, each) if tank.beyond]


def version_of_tanks(firm: Firm, day: date) -> str:
    """Another one as soon as a tank of the day, or what was drawn or left over, is."""
    mixes = _around(firm, day).values_list("document__mixes", flat=True)[:MOST]
    drawn = [[mix.get("loads"), mix.get("left_over")] for each in mixes for mix in each or []]
    batches = Batch.objects.for_firm(firm).filter(mixed_at__range=_around_noon(day)).order_by("pk")
    filled = [[str(each.pk), each.volume.as_json(), each.products, each.diluent] for each in batches]
    return digest(canonical_bytes([drawn, filled]))


def _around_noon(day: date) -> tuple[datetime, datetime]:
    noon = datetime.combine(day, time(12), UTC)
    return noon - timedelta(days=2), noon + timedelta(days=2)


def _others(treatment: Treatment) -> list[Treatment]:
    return list(_around(treatment.firm, treatment.day).exclude(pk=treatment.pk)[:MOST])


def _around(firm: Firm, day: date) -> QuerySet[Treatment]:
    treatments = Treatment.objects.for_firm(firm).filter(day__range=(day - LOOKED_BACK, day))
    off = (Treatment.State.VOID, Treatment.State.BROUGHT_IN)
    return treatments.exclude(state__in=off).order_by("-planned_at")


def _left_over(others: list[Treatment]) -> Iterator[FilledTank]:
    for other in others:
        try:
            yield from left_overs(other.document, other.day)
        except DocumentFaults:
            continue


def _of_the_day(firm: Firm, day: date, zone: str) -> Iterator[FilledTank]:
    around = _around_noon(day)
    batches = Batch.objects.for_firm(firm).filter(mixed_at__range=around).select_related("rig")
    tanks = (_tank(each, day) for each in batches if local_day(each.mixed_at, zone) == day)
    yield from (stated for tank in tanks if (stated := _as_in_document(tank)))


def _as_in_document(tank: FilledTank) -> FilledTank | None:
    """None where it does not state all that a share of it needs, or can't stand in a document."""
    try:
        document = read_mix(tank.mix)
    except DocumentFaults:
        return None
    return (
        None if isinstance(mixed(document, 0), NoAmount) else replace(tank, mix=as_json(document)["mixes"][0])
    )


def read_mix(mix: Json) -> TreatmentDocument:
    """A document with this mix alone. Raises DocumentFaults."""
    return read({"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [mix]})


def _tank(batch: Batch, day: date) -> FilledTank:
    at = batch.mixed_at.isoformat(timespec="seconds")
    load = {"batch": str(batch.pk)}
    return FilledTank(str(batch.pk), day, at, mix_in(batch, day), batch.volume, batch.volume, load)


def mix_in(batch: Batch, day: date) -> Json:
    """What the tank was filled with, as a document states a mix."""
    return reference.filled(
        products=with_ids([_line(batch, line, day) for line in batch.products], str(batch.pk)),
        diluent=batch.diluent,
        form="tank",
        mixed_at_place=batch.mixed_at_place,
        equipment=batch.rig and batch.rig.name,
    )


def _line(batch: Batch, line: Json, day: date) -> Json:
    """The product as its row and the label of its lot say it; as it stands where there is no row."""
    product = Product.objects.for_firm(batch.firm).filter(name=line.get("name")).first()
    if product is None:
        return line
    lots = Lot.objects.for_firm(batch.firm).filter(label__product=product, number=line.get("lot", ""))
    return reference.product_part(product, lots.first(), day) | line


def _less_draws(tank: FilledTank, documents: list[Json]) -> FilledTank:
    taken = sum((drawn_before(tank, document) for document in documents), Fraction(0))
    if not taken:
        return tank
    rest, unit = tank.left.base - taken, tank.left.unit
    beyond = from_base(-rest, unit) if rest < 0 else None
    return replace(tank, left=from_base(max(rest, Fraction(0)), unit), beyond=beyond)
