"""What was counted, given back or disposed of in the store, as the office wrote it down."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from project.demo.people_near import noon
from records.models import Firm, Lot, User
from records.services.stock import Move, move_stock
from shared import clock
from shared.quantities import parse


def keep_shelf(firm: Firm, rows: Iterable[Mapping[str, Any]], users: Mapping[str, User]) -> None:
    for number, row in enumerate(rows):
        day = date.fromisoformat(row["on"])
        lot = Lot.objects.for_firm(firm).get(number=row["lot"])
        told, amount = f"demo-{number}", parse(row["amount"])
        with clock.at(noon(day)):
            move = Move(told=told, kind=row["kind"], amount=amount, on=day, why=row.get("why", ""))
            move_stock(lot, users[row["by"]], move)
