"""What reference rows say now beside what was written from them into a draft: asked, never silent."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from records import reference
from records.document.days import treatment_day
from records.document.reader import read
from records.models import Lot, Person, Product, Rig, Surface, Treatment, TreatmentEdit
from shared.tenancy import FirmOwned

Json = dict[str, Any]


@dataclass(frozen=True)
class Change:
    """A member that was written from a row, by its path with ids: as `written`, and as the row says `now`."""

    path: str
    written: Any
    now: Any


def changed_since_planning(treatment: Treatment) -> list[Change]:
    """Every member whose reference row says something else by now; none for what is signed.

    What was typed into the draft is no question: only members that still stand as they were written out are.
    """
    if treatment.state != Treatment.State.DRAFT:
        return []
    document = treatment.document
    day = treatment_day(read(document)) or treatment.day
    typed = tuple(_typed_paths(treatment))
    return [change for change in _changes(treatment, document, day) if not change.path.startswith(typed)]


def _typed_paths(treatment: Treatment) -> Iterable[str]:
    edits = TreatmentEdit.objects.for_firm(treatment.firm).filter(treatment=treatment)
    return edits.values_list("path", flat=True)


def _changes(treatment: Treatment, document: Json, day: date) -> list[Change]:
    return [
        *_differences("firm", document.get("firm"), reference.firm_part(treatment.firm, day)),
        *_differences("customer", document.get("customer"), reference.customer_part(treatment.site.customer)),
        *_differences("site", document.get("site"), reference.site_part(treatment.site)),
        *_of_people(treatment, day),
        *_of_surfaces(treatment),
        *_of_products(treatment, day),
        *_of_rigs(treatment, day),
    ]


def _differences(path: str, written: Json | None, now: Json) -> Iterator[Change]:
    written = written or {}
    for name in sorted(written.keys() | now.keys()):
        if written.get(name) != now.get(name):
            yield Change(f"{path}.{name}", written.get(name), now.get(name))


def _of_people(treatment: Treatment, day: date) -> Iterator[Change]:
    for written, person in _with_rows(treatment, treatment.document.get("people"), Person):
        now = reference.person_part(person, day)
        yield from _differences(f"people[{person.uuid}]", _only(written, now, also=("licences",)), now)


def _of_surfaces(treatment: Treatment) -> Iterator[Change]:
    for written, surface in _with_rows(treatment, treatment.document.get("surfaces"), Surface):
        now = reference.surface_part(surface)
        yield from _differences(f"surfaces[{surface.uuid}]", _only(written, now), now)


def _of_products(treatment: Treatment, day: date) -> Iterator[Change]:
    for mix in treatment.document.get("mixes", []):
        for written, product in _with_rows(treatment, mix.get("products"), Product):
            lots = Lot.objects.for_firm(treatment.firm).filter(label__product=product)
            lot = lots.filter(number=written.get("lot")).first()
            now = reference.product_part(product, lot, day)
            path = f"mixes[{mix.get('id')}].products[{product.uuid}]"
            yield from _differences(path, _only(written, now, also=("label",)), now)


def _of_rigs(treatment: Treatment, day: date) -> Iterator[Change]:
    for written, rig in _with_rows(treatment, treatment.document.get("equipment"), Rig):
        now = reference.rig_part(rig, day)
        yield from _differences(f"equipment[{rig.uuid}]", _only(written, now), now)


def _with_rows(
    treatment: Treatment, items: list[Json] | None, model: type[FirmOwned]
) -> Iterator[tuple[Json, Any]]:
    """Each item of a list whose id is that of a row of this firm, with the row."""
    by_id = {str(item["id"]): item for item in items or [] if _is_uuid(item.get("id"))}
    rows = model.objects.for_firm(treatment.firm).filter(pk__in=by_id)
    yield from ((by_id[str(row.pk)], row) for row in rows.order_by("pk"))


def _only(written: Json, now: Json, also: tuple[str, ...] = ()) -> Json:
    return {name: value for name, value in written.items() if name in now or name in also}


def _is_uuid(text: Any) -> bool:
    try:
        UUID(text)
    except (TypeError, ValueError):
        return False
    return True
