"""Write down what came to the shelf, what left it and what was counted. Nothing of it is changed afterwards."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from records.models import AuditEntry, LabelVersion, Lot, StockMove, User
from records.permissions import demand
from records.services.audit import Json, change, note
from records.services.stock_rules import faults
from records.shelf import Line
from records.stock import one_lot
from shared.quantities import Quantity

Kind = StockMove.Kind
_TOLD = ("lot_id", "kind", "amount", "on", "why", "early", "by_id")
_IDS = uuid.UUID("7f1a52c4-9f0e-4a1d-8a55-0d6f3b1c2e90")


class NotNowError(ValueError):
    """It is taken back already, or differs from what was shown."""


class ToldOtherwiseError(ValueError):
    """By this id something else was written down: `there`."""

    def __init__(self, there: StockMove) -> None:
        super().__init__(str(there))
        self.there = there


@dataclass(frozen=True, kw_only=True)
class Move:
    """What somebody typed. `told` is an id made with the form: the same told twice is one entry."""

    told: str
    kind: str
    amount: Quantity
    on: date
    why: str = ""
    early: bool = False


@transaction.atomic
def move_stock(lot: Lot, by: User, move: Move) -> StockMove:
    """The entry, once. Raises PermissionDenied, ValidationError, ToldOtherwiseError."""
    demand(by, "records.keep_stock", lot)
    if found := dict(faults(lot.firm, move.kind, move.amount, move.on, move.why)):
        raise ValidationError(found)
    made = StockMove(
        uuid=uuid.uuid5(_IDS, f"{lot.firm_id}:{move.told}"), lot=lot, kind=move.kind, amount=move.amount,
        on=move.on, why=move.why, early=move.early and move.kind == Kind.COUNT, by=by,
    )  # fmt: skip
    return _once(made)


@transaction.atomic
def take_delivery(label: LabelVersion, number: str, by: User, move: Move) -> StockMove:
    """What came of a lot, of which there may be no row yet. Raises as `move_stock` does."""
    demand(by, "records.keep_stock", label)
    lot, _made = Lot.objects.for_firm(label.firm).get_or_create(
        label=label, number=number, defaults={"firm": label.firm, "received_on": move.on}
    )
    return move_stock(lot, by, move)


@transaction.atomic
def set_aside(lot: Lot, by: User, on: date, why: str) -> StockMove:
    """From now on nobody is offered the lot, as after a recall; until it is taken back.

    Raises PermissionDenied, NotNowError where it is set aside already.
    """
    demand(by, "records.keep_stock", lot)
    if one_lot(Lot.objects.for_firm(lot.firm).select_for_update().get(pk=lot.pk)).set_aside:
        raise NotNowError("set aside already")
    return _once(StockMove(lot=lot, kind=Kind.SET_ASIDE, on=on, why=why, by=by))


@transaction.atomic
def take_back(move: StockMove, by: User, why: str) -> StockMove:
    """The entry was wrong: it no longer counts, and both stay to be seen.

    Raises PermissionDenied, NotNowError.
    """
    demand(by, "records.keep_stock", move)
    Lot.objects.for_firm(move.firm).select_for_update().get(pk=move.lot_id)
    about = StockMove.objects.for_firm(move.firm).filter(of=move, kind=Kind.TAKEN_BACK)
    if move.kind in StockMove.ABOUT_ANOTHER or about.exists():
        raise NotNowError("taken back already")
    return _once(StockMove(lot=move.lot, kind=Kind.TAKEN_BACK, of=move, on=move.on, why=why, by=by))


@transaction.atomic
def explain(count: StockMove, off: str, by: User, why: str) -> StockMove:
    """Why a count differs by `off`, a fraction of L or kg: it asks for nobody while it differs by as much.

    Raises PermissionDenied, NotNowError where it differs by something else.
    """
    demand(by, "records.settle_stock", count)
    line = line_of(count)
    if line is None or str(line.off) != off:
        raise NotNowError("it differs by something else now")
    return _once(StockMove(lot=count.lot, kind=Kind.EXPLAINED, of=count, off=off, on=count.on, why=why, by=by))


def line_of(count: StockMove) -> Line | None:
    """The count in its ledger, if it differs by something."""
    lines = (line for line in one_lot(count.lot).lines if line.entry.key == str(count.pk))
    return next((line for line in lines if line.off), None)


def _once(made: StockMove) -> StockMove:
    made.keep_within_one_firm()
    Lot.objects.for_firm(made.firm).select_for_update().get(pk=made.lot_id)
    if there := StockMove.objects.for_firm(made.firm).filter(pk=made.pk).first():
        if any(getattr(there, name) != getattr(made, name) for name in _TOLD):
            raise ToldOtherwiseError(there)
        return there
    made.save(force_insert=True)
    note(
        AuditEntry.Kind.CREATED, made, firm=made.firm, by=made.by, changes=list(_changes(made)), reason=made.why
    )
    return made


def _changes(made: StockMove) -> Sequence[Json]:
    said: dict[str, Any] = {
        "kind": made.kind,
        "amount": f"{made.amount.value} {made.amount.unit}" if made.amount else None,
        "on": made.on.isoformat(),
        "of": str(made.of_id) if made.of_id else None,
    }
    return [change(name, None, value) for name, value in said.items() if value is not None]
