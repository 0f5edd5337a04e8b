"""Enter a firm's story through the services that people use, each step at the moment when it happened."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from operator import itemgetter
from typing import Any
from uuid import uuid4

from compliance.services.after_signing import follow_up_confirmed
from compliance.services.signing import UnansweredError, sign_confirmed
from project.demo.ahead import visits_ahead
from project.demo.day import Day
from project.demo.days import DayMaker
from project.demo.entries import before, corrected_finish, entries_of
from project.demo.events import Events, events_of
from project.demo.incidents import go_wrong
from project.demo.people_near import take_in_register
from project.demo.rows import Rows
from project.demo.shelf import keep_shelf
from project.demo.source import FirmSource
from project.demo.telling import tell
from project.demo.visits import Calendar
from project.demo.words import said
from records.document.edits import Edit
from records.models import Treatment, User
from records.services.corrections import start_correction
from records.services.declaring import declare
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from shared import clock

PLANNED_AHEAD = timedelta(days=6, hours=17)
SIGNED_AFTER = timedelta(minutes=2)
CORRECTED_AFTER = timedelta(days=2)
PLANNED_BY = timedelta(days=4)
"""Before the working day that was the last one, whatever today is."""


class NotEnteredError(RuntimeError):
    """An entry of the demo was not understood or met another: its data files need mending."""


Scene = tuple[datetime, Callable[[], None]]


class Storyteller:
    """Plays the visits of one firm as things happened, so that what is signed comes in in the order of time."""

    def __init__(self, source: FirmSource, rows: Rows) -> None:
        self.source, self.rows = source, rows
        self.maker = DayMaker(source, rows)
        self.treatments: dict[int, Treatment] = {}

    def play(self, now: datetime) -> None:
        """Enter all visits up to the story's last day, and what lies ahead of `now`."""
        calendar = Calendar(self.source)
        events = events_of(self.source, calendar.visits())
        scenes = [scene for day in self.days(events) for scene in self.scenes(day, events)]
        for _moment, happen in sorted(scenes, key=itemgetter(0)):
            happen()
        if register := self.source.story.get("register"):
            take_in_register(self.rows.firm, register, self.rows.users)
        keep_shelf(self.rows.firm, self.source.story.get("shelf", []), self.rows.users)
        for visit, state in visits_ahead(calendar, now):
            self.open_draft(self.maker.day(visit, Events([])), state)
            if state == "told":
                tell(self.treatments[visit.index], self.source.story["told"], self.rows.users, now)
        for wrong in self.source.story.get("went_wrong", ()):
            go_wrong(self.rows, wrong, now)

    def scenes(self, day: Day, events: Events) -> Iterator[Scene]:
        """What happens for one visit, each thing with its moment."""
        index = day.visit.index
        yield day.visit.starts_at - PLANNED_AHEAD, partial(self.plan, day)
        yield day.recorded_at + SIGNED_AFTER, partial(self.write_down, day, events.faults.get(index))
        if correction := events.corrections.get(index):
            yield day.recorded_at + CORRECTED_AFTER + SIGNED_AFTER, partial(self.correct, day, correction)
        for row in events.follow_ups.get(index, []):
            moment = day.recorded_at + timedelta(days=int(row["days"]))
            yield moment + SIGNED_AFTER, partial(self.follow_up, day, row, moment)

    def open_draft(self, day: Day, state: str) -> None:
        """A plan, with what the crew has entered by the time that it is looked at."""
        self.plan(day)
        treatment = self.treatments[day.visit.index]
        if state == "before-spraying":
            entries = before(day, treatment.document)
            enter(treatment, entries, self.user(day), day.started_at - SIGNED_AFTER)
        elif state == "sprayed":
            entries = entries_of(day, treatment.document)
            enter(treatment, entries, self.user(day), day.recorded_at)

    def days(self, events: Events) -> list[Day]:
        days = {visit.index: self.maker.day(visit, events) for visit in events.visits}
        if events.shared_tank:
            batch = self.maker.batch([days[index] for index in events.shared_tank])
            for index in events.shared_tank:
                days[index] = replace(days[index], batch=str(batch.pk))
        return list(days.values())

    def plan(self, day: Day) -> None:
        with clock.at(min(day.visit.starts_at - PLANNED_AHEAD, clock.now() - PLANNED_BY)):
            planner = self.rows.users[self.source.story["plans"]]
            planned = plan_treatment(self.rows.firm, planner, self.maker.plan(day))
        self.treatments[day.visit.index] = planned

    def write_down(self, day: Day, fault: Mapping[str, Any] | None) -> None:
        treatment = self.treatments[day.visit.index]
        entries = entries_of(day, treatment.document)
        enter(treatment, entries, self.user(day), day.recorded_at)
        self.sign(treatment, self.user(day), day.recorded_at + SIGNED_AFTER, fault)

    def sign(self, treatment: Treatment, by: User, moment: datetime, fault: Mapping[str, Any] | None) -> None:
        """Sign, with the reason that the story gives for what is open."""
        with clock.at(moment):
            declare(treatment.firm, by, "en")
            try:
                sign_confirmed(treatment, by)
            except UnansweredError as error:
                reason = fault["reason"] if fault else self.source.story["reason_for_anything_else"]
                reason = said(reason, treatment.document)
                answers = [{**named(finding), "reason": reason} for finding in error.findings]
                sign_confirmed(treatment, by, answers)

    def correct(self, day: Day, row: Mapping[str, Any]) -> None:
        moment = day.recorded_at + CORRECTED_AFTER
        with clock.at(moment):
            draft = start_correction(self.treatments[day.visit.index], self.user(day), row["reason"])
        enter(draft, corrected_finish(day, int(row["minutes"])), self.user(day), moment)
        self.sign(draft, self.user(day), moment + SIGNED_AFTER, None)

    def follow_up(self, day: Day, row: Mapping[str, Any], moment: datetime) -> None:
        treatment = self.treatments[day.visit.index]
        with clock.at(moment + SIGNED_AFTER):
            follow_up_confirmed(treatment, self.user(day), kind=row["kind"], at=moment, detail=row["detail"])

    def user(self, day: Day) -> User:
        return self.rows.users[day.visit.applicator]


def named(finding: Mapping[str, Any]) -> dict[str, Any]:
    return {"rule": finding["rule"], "about": finding["about"]}


def enter(treatment: Treatment, entries: Mapping[str, Any], by: User, moment: datetime) -> None:
    """Make the entries as edits on the present revision. Raises NotEnteredError unless all are taken up."""
    base = treatment.revision
    edits = [Edit(str(uuid4()), path, value, base) for path, value in entries.items()]
    with clock.at(moment):
        outcome = edit_draft(treatment, edits, by)
    if outcome.unread or outcome.conflicts:
        raise NotEnteredError(f"{treatment.number}: {outcome.unread or outcome.conflicts}")
