"""By when somebody must be told, or a sign stand: before the start of the work, during it, or after it."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from compliance.rulebook.durations import Duration, read_duration
from compliance.rulebook.facts import Leaf, Paths, Scope
from compliance.rulebook.reading import Params
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.wording import Wording, fill

BEFORE, MEANWHILE = "before", "at the time"
Form = Literal["ahead", "before", "meanwhile", "after"]

_SAID = {
    "ahead": Wording("at least {length} before the start", "al menos {length} antes del inicio"),
    "before": Wording("before the start", "antes del inicio"),
    "meanwhile": Wording("by the end of the work", "a más tardar al final del trabajo"),
    "after": Wording("within {length} of the end of the work", "en un plazo de {length} tras el trabajo"),
    "same_day": Wording("on the day of the work, once it is done", "el mismo día, terminado el trabajo"),
}


@dataclass(frozen=True)
class Timely:
    """Whether a moment is in time; None: can't tell, for lack of these members."""

    truth: bool | None
    lacks: Paths = ()


@dataclass(frozen=True)
class Work:
    """When the work starts (as it was, else as planned) and ends, and the members that say so."""

    start: datetime | None
    end: datetime | None
    start_about: Paths
    end_about: Paths


@dataclass(frozen=True)
class Lead:
    """`ahead` by a length of time, at any time `before` the start, `meanwhile`, or `after` the end."""

    form: Form
    length: Duration
    started: FactPath
    planned: FactPath
    finished: FactPath

    def work(self, scope: Scope) -> Work:
        """Start and end of the work."""
        started, planned, finished = (
            path.leaf(scope) for path in (self.started, self.planned, self.finished)
        )
        start = started if started.value or not planned.value else planned
        return Work(_moment(start), _moment(finished), start.about, finished.about)

    def due(self, scope: Scope) -> tuple[datetime | None, Paths]:
        """The latest moment that is in time; None for lack of these members."""
        work = self.work(scope)
        if self.form in ("ahead", "before"):
            if work.start is None:
                return None, work.start_about
            if self.form == "before":
                return scope.facts.local(work.start), ()
            return self.length.before(work.start, scope.facts), ()
        if work.end is None:
            return None, work.end_about
        if self.form == "meanwhile":
            return scope.facts.local(work.end), ()
        return self.length.after(work.end, scope.facts), ()

    def latest(self, scope: Scope) -> datetime | None:
        """The latest moment that is in time as far as a plan knows: what counts from the end of the work is
        counted from its start, so that it is never too late."""
        due, start = self.due(scope)[0], self.work(scope).start
        if due is not None or start is None:
            return due
        return scope.facts.local(start) if self.form == "meanwhile" else self.length.after(start, scope.facts)

    def timely(self, at: datetime, scope: Scope) -> Timely:
        """Whether a moment is in time. What is done before the start is in time while the work goes on, too;
        what is due after the end does not count before it."""
        due, lacks = self.due(scope)
        work = self.work(scope)
        if self.form == "meanwhile" and work.start is not None and at <= work.start:
            return Timely(True)
        if due is None:
            return Timely(None, lacks)
        if self.form == "after" and work.end is not None and at < work.end:
            return Timely(False)
        return Timely(at <= due)

    def serves_from(self, at: datetime, scope: Scope) -> str:
        """The earliest start for which what was done at this moment is in time: a moment, or a day."""
        local = scope.facts.local
        if self.form == "ahead" and not self.length.hours:
            return self.length.day_after(local(at).date(), scope.facts).isoformat()
        moment = self.length.after(at, scope.facts) if self.form == "ahead" else local(at)
        return f"{moment:%Y-%m-%d %H:%M}"

    def say(self, language: str) -> str:
        """`at least 48 h before the start`."""
        same_day = self.form == "after" and self.length == Duration()
        return fill(_SAID["same_day" if same_day else self.form], {"length": self.length}, language)


def read_lead(params: Params, *, after: bool = False) -> Lead:
    """`lead`, or with `after` either `lead` or `after`, with `holidays` where business days are counted.

    Raises RuleError.
    """
    key = params.which("lead", "after") if after else "lead"

    def read(raw: object) -> tuple[Form, Duration]:
        if key == "lead" and raw in (BEFORE, MEANWHILE):
            return ("before" if raw == BEFORE else "meanwhile"), Duration()
        return ("ahead" if key == "lead" else "after"), read_duration(params, raw)

    form, length = params.value(key, read)
    started, planned, finished = (
        read_path(f"timing.{name}", params.setting.roots)
        for name in ("started_at", "planned_at", "finished_at")
    )
    return Lead(form, length, started, planned, finished)


def _moment(leaf: Leaf) -> datetime | None:
    return leaf.value if isinstance(leaf.value, datetime) else None
