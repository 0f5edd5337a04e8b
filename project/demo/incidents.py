"""What went wrong lately, as it was entered by those who were there."""

from collections.abc import Mapping
from datetime import datetime, time, timedelta
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from compliance.services.incidents import answer, close
from project.demo.rows import Rows
from project.demo.telling import last_working_day
from records.services.incidents import begin, write_facts
from shared import clock
from shared.quantities import parse

A_FEW_MINUTES, AN_HOUR = timedelta(minutes=5), timedelta(hours=1)
FACTS = ("place", "description", "reached", "affected", "action")


def go_wrong(rows: Rows, told: Mapping[str, Any], now: datetime) -> None:
    """Begun on the last working day before `now`; reported, or said not to be owed, and closed, where that is
    told."""
    zone = ZoneInfo(rows.firm.time_zone)
    day = last_working_day(now.astimezone(zone).date())
    at = datetime.combine(day, time.fromisoformat(told["at"]), zone)
    by = rows.users[told["by"]]
    with clock.at(at):
        incident = begin(rows.firm, by, uuid4(), told["kind"])
    with clock.at(at + A_FEW_MINUTES):
        facts = {name: told[name] for name in FACTS if name in told}
        amount = {"amount": parse(told["amount"], ("volume", "mass"))} if "amount" in told else {}
        product = {"product": rows.products[told["product"]]} if "product" in told else {}
        write_facts(incident, by, {**facts, **amount, **product})
    with clock.at(at + AN_HOUR):
        for said in told.get("answers", ()):
            more = {name: said[name] for name in ("duty", "to", "how", "text") if name in said}
            answer(incident, by, said["kind"], at + A_FEW_MINUTES, **more)
        if "ended" in told:
            close(incident, rows.users[told["closed_by"]], told["ended"])
