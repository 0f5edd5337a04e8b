"""Record that a tank was filled, of which several treatments draw."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from django.db import transaction

from records import reference
from records.document.amounts import mixed
from records.document.computed import Amount, NoAmount
from records.models import Batch, Firm, Product, Rig, User
from records.permissions import demand
from records.tanks_at_hand import mix_in, read_mix
from shared.quantities import Quantity
from shared.times import local_day

OFF_BY_AT_MOST = Fraction(1, 20)
"""A tank is read from marks on its side: common practice, no source."""
_IDS = uuid.UUID("c1f7a7d2-3c55-4c5b-9d0e-2a9f1b6e7d48")


class NotThatMuchError(ValueError):
    """The whole tank is not what went into it; `made` is that, or why it is nothing."""

    def __init__(self, made: Amount | NoAmount) -> None:
        super().__init__(made.say("en"))
        self.made = made


@dataclass(frozen=True)
class FilledLine:
    """One product, with the lot number on its container, and how much of it."""

    product: Product
    lot: str
    amount: Quantity


@dataclass(frozen=True, kw_only=True)
class Filling:
    """A tank that was filled. `told` is an id made with the form: told twice it is one tank. Without a `volume`
    it is what went into it."""

    told: str
    mixed_at: datetime
    place: str
    products: Sequence[FilledLine]
    water: Quantity
    rig: Rig | None = None
    volume: Quantity | None = None


@transaction.atomic
def fill_tank(firm: Firm, by: User, filling: Filling) -> Batch:
    """The tank, once.

    Raises PermissionDenied if `by` may not write in this firm, ValueError for another firm's row,
    DocumentFaults if it cannot stand in a document, NotThatMuchError.
    """
    demand(by, "records.edit_draft", firm)
    rows = [filling.rig, *(line.product for line in filling.products)]
    if any(row.firm_id != firm.pk for row in rows if row):
        raise ValueError("the tank names a row of another firm")
    batch = _batch(firm, filling)
    if there := Batch.objects.for_firm(firm).filter(pk=batch.pk).first():
        return there
    made = mixed(read_mix(mix_in(batch, local_day(batch.mixed_at, firm.time_zone))), 0)
    if isinstance(made, NoAmount) or not _is_whole(filling.volume, made):
        raise NotThatMuchError(made)
    batch.volume = filling.volume or made.quantity
    batch.full_clean()
    batch.save(force_insert=True)
    return batch


def _batch(firm: Firm, filling: Filling) -> Batch:
    lines = [
        reference.filled(name=line.product.name, lot=line.lot, amount=line.amount.as_json())
        for line in filling.products
    ]
    return Batch(
        uuid=uuid.uuid5(_IDS, f"{firm.pk}:{filling.told}"),
        firm=firm,
        rig=filling.rig,
        mixed_at=filling.mixed_at,
        mixed_at_place=filling.place,
        products=lines,
        diluent={"name": "water", "amount": filling.water.as_json()},
    )


def _is_whole(volume: Quantity | None, made: Amount) -> bool:
    return volume is None or abs(volume.base - made.base) <= made.base * OFF_BY_AT_MOST
