"""One visit as it went: when it began and ended, what was used, what was out of the ordinary."""

import math
import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from project.demo.amounts import Amounts, Json
from project.demo.visits import Visit


@dataclass(frozen=True)
class Day:
    """A visit as it went: what was used, and what was out of the ordinary."""

    visit: Visit
    amounts: Amounts
    usual: dict[str, Json]
    flow: Decimal
    fault: str = ""
    note: str = ""
    batch: str = ""
    stood_down: Json | None = None

    @property
    def started_at(self) -> datetime:
        return self.visit.starts_at + timedelta(minutes=self.visit.chance("start").randint(2, 14))

    @property
    def finished_at(self) -> datetime:
        """Twice the time at the rig's flow, for moving ladder and hose, and some looking."""
        applied = self.amounts.mix["applied"]
        spraying = 20.0 if applied["unit"] == "lb" else float(Decimal(applied["value"]) / self.flow)
        return self.started_at + timedelta(minutes=8 + math.ceil(2 * spraying))

    @property
    def recorded_at(self) -> datetime:
        if self.fault == "late-record":
            return (self.visit.starts_at + timedelta(days=1)).replace(hour=7, minute=35)
        return self.finished_at + timedelta(minutes=self.visit.chance("record").randint(9, 24))

    def minutes_in(self, share: float) -> datetime:
        minutes = int((self.finished_at - self.started_at).total_seconds() // 60 * share)
        return self.started_at + timedelta(minutes=minutes)


def text(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")


def new_id() -> str:
    return str(uuid.uuid4())
