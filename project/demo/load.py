"""Enter a firm's story through the services that people use, each step at the moment when it happened."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any
from uuid import uuid4

from project.demo.days import DayMaker
from project.demo.entries import Day, entries_of
from project.demo.events import Events, events_of
from project.demo.rows import Rows
from project.demo.source import FirmSource
from project.demo.visits import Calendar
from records.document.edits import Edit
from records.models import Treatment, User
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock

PLANNED_AHEAD = timedelta(days=6, hours=17)


class NotEnteredError(RuntimeError):
    """An entry of the demo was not understood or met another: its data files need mending."""


class Storyteller:
    """Plays the visits of one firm, in their order."""

    def __init__(self, source: FirmSource, rows: Rows) -> None:
        self.source, self.rows = source, rows
        self.maker = DayMaker(source, rows)

    def play(self) -> None:
        events = events_of(self.source, Calendar(self.source).visits())
        for day in self.days(events):
            treatment = self.plan(day)
            enter(treatment, entries_of(day, treatment.document), self.user(day), day.recorded_at)

    def days(self, events: Events) -> list[Day]:
        days = {visit.index: self.maker.day(visit, events) for visit in events.visits}
        if events.shared_tank:
            batch = self.maker.batch([days[index] for index in events.shared_tank])
            for index in events.shared_tank:
                days[index] = replace(days[index], batch=str(batch.pk))
        return list(days.values())

    def plan(self, day: Day) -> Treatment:
        with clock.at(day.visit.starts_at - PLANNED_AHEAD):
            planner = self.rows.users[self.source.story["plans"]]
            return plan_treatment(self.rows.firm, planner, self.maker.plan(day))

    def user(self, day: Day) -> User:
        return self.rows.users[day.visit.applicator]


def enter(treatment: Treatment, entries: Mapping[str, Any], by: User, moment: datetime) -> None:
    """Make the entries as edits on the present revision. Raises NotEnteredError unless all are taken up."""
    base = treatment.revision
    edits = [Edit(str(uuid4()), path, value, base) for path, value in entries.items()]
    with clock.at(moment):
        outcome = edit_draft(treatment, edits, by)
    if outcome.unread or outcome.conflicts:
        raise NotEnteredError(f"{treatment.number}: {outcome.unread or outcome.conflicts}")
