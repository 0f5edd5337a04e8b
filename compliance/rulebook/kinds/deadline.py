"""Kind `deadline`: by when a record, copy, report or incident notice is due."""

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Self

from compliance.rulebook.clocks import on_other_clocks
from compliance.rulebook.deadline_wordings import WORDINGS
from compliance.rulebook.durations import Duration, read_duration, said_moment
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Leaf, Paths, Scope, member
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, one_of
from compliance.rulebook.vocabulary import FactPath, read_path, words_of
from shared.wording import Wording

_WHY = Wording("Say why it was late.", "Diga por qué se hizo tarde.")
_WHICH = Wording(
    "Look which of the times is wrong, and say so on the record.",
    "Mire cuál de las horas es errónea y dígalo en el registro.",
)
_RECORDED = "timing.recorded_at"
_NOW = Wording("Do it now, and record that it is done.", "Hágalo ahora y anote que está hecho.")


@dataclass(frozen=True)
class Deadline(Kind):
    """Met if done in time, not met if done late; not yet due: doesn't apply, with the moment. What was done
    before the work ended is not it, what counts from the day of work that went over midnight is due on one of
    two days, and where no clock is known a day is none: can't tell.

    What was not done and is overdue can't be told from a member that is left out; a list of follow-ups
    without it says so.
    """

    name = "deadline"
    judges = ("document",)
    wordings = WORDINGS

    done: FactPath | None
    follow_up: str | None
    follow_ups: FactPath
    after: FactPath
    within: Duration
    ends: tuple[FactPath, ...]
    zone: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        params.which("done", "follow_up")
        follow_ups = read_path("context.follow_ups", params.setting.roots, lists=True)
        after = params.value("after", lambda raw: _moment(params, raw))
        within = params.value("within", lambda raw: read_duration(params, raw))
        if after.term.sort == "day" and within.hours:
            raise RuleError("rule/bad_duration", {"got": within, "example": "30 day"}, ("within",))
        return cls(
            params.maybe("done", lambda raw: _moment(params, raw)),
            params.maybe("follow_up", one_of(words_of(follow_ups, "kind"))),
            follow_ups,
            after,
            within,
            tuple(read_path(f"timing.{name}", params.setting.roots) for name in ("finished_at", "started_at")),
            read_path("site.time_zone", params.setting.roots),
        )

    def judge(self, scope: Scope) -> Judgement:
        start = self.after.leaf(scope)
        if not isinstance(start.value, date):
            return missing(start.lacks)
        earliest = self._earliest(scope, start.value)
        done, about, known = self._done(scope, earliest)
        if done:
            return self._when_done(scope, done, about, start.value, earliest)
        due, last = self._due(scope, start.value)
        blanks = {"due": said_moment(due)}
        if scope.facts.on is None:
            return missing((*about, "context.on"))
        if scope.facts.on <= due.date():
            return Judgement(Outcome.NOT_APPLICABLE, "deadline/not_yet_due", about, blanks, due=due)
        if not known or scope.facts.on <= last.date():
            return missing(about)
        bound = due.isoformat()
        return Judgement(Outcome.NOT_MET, "deadline/not_done", about, blanks, None, bound, due, mend=_NOW)

    def _when_done(
        self, scope: Scope, done: datetime, about: Paths, start: date, earliest: datetime | None
    ) -> Judgement:
        due, last = self._due(scope, start)
        blanks = {"due": said_moment(due), "done": said_moment(scope.facts.local(done))}
        if earliest and done < earliest:
            blanks["ended"] = said_moment(scope.facts.local(earliest))
            lacks = (*about, *self.after.leaf(scope).about)
            early = "before_the_end" if self.done and self.done.text == _RECORDED else "too_early"
            return Judgement(Outcome.CANT_TELL, f"deadline/{early}", lacks, blanks, mend=_WHICH)
        if self._hangs_on_the_clock(scope, start, done):
            return missing(self.zone.leaf(scope).lacks)
        if due < done <= last:
            blanks["last"] = said_moment(last)
            return Judgement(Outcome.CANT_TELL, "deadline/over_days", about, blanks, due=due, mend=_WHY)
        if done <= due and self._may_be_before_the_end(scope):
            return missing(self.ends[0].leaf(scope).lacks)
        outcome, wording = (Outcome.MET, "met") if done <= due else (Outcome.NOT_MET, "late")
        seen = done.isoformat(), due.isoformat()
        return Judgement(outcome, f"deadline/{wording}", about, blanks, *seen, due, mend=_WHY)

    def possible(self) -> frozenset[Outcome]:
        return frozenset(Outcome)

    def due_by(self, scope: Scope) -> datetime | None:
        """By when it is due, by a plan: what counts from the end of the work is counted from its first day;
        None where it counts from something else that is not known."""
        start = self.after.leaf(scope).value
        if start is None and self.after == self.ends[0]:
            start = scope.facts.day
        return self._due(scope, start)[0] if isinstance(start, date) else None

    def _due(self, scope: Scope, start: date) -> tuple[datetime, datetime]:
        """By when it is due, and by when it would be, counted from the day on which the work ended."""
        if isinstance(start, datetime):
            due = self.within.after(start, scope.facts)
            return due, due
        due = self.within.end_after(start, scope.facts)
        finished = self.ends[0].leaf(scope).value
        day = scope.facts.local(finished).date() if isinstance(finished, datetime) else start
        return due, self.within.end_after(day, scope.facts) if day > start else due

    def _hangs_on_the_clock(self, scope: Scope, start: date, done: datetime) -> bool:
        """Whether it comes out otherwise on a clock that the site may have: its time zone is not stated."""
        began = start if isinstance(start, datetime) else self.ends[1].leaf(scope).value
        stated = self.zone.leaf(scope).value is not None
        if stated or self.within.hours or not isinstance(began, datetime):
            return False
        in_time = done <= self.within.after(began, scope.facts)
        others = on_other_clocks((began, done), stated, scope)
        return any((done <= self.within.after(began, other.facts)) is not in_time for other in others)

    def _earliest(self, scope: Scope, start: date) -> datetime | None:
        """From when it can be done: the end of the work (else its start, or its day), and what it follows."""
        known = (path.leaf(scope).value for path in self.ends)
        ended = next((moment for moment in known if isinstance(moment, datetime)), None)
        if ended is None and scope.facts.day:
            ended = scope.facts.local(datetime.combine(scope.facts.day, time()))
        return max([at for at in (ended, start) if isinstance(at, datetime)], default=None)

    def _may_be_before_the_end(self, scope: Scope) -> bool:
        """Whether work began of which no end is stated."""
        finished, started = (path.leaf(scope).value for path in self.ends)
        return finished is None and started is not None

    def _done(self, scope: Scope, earliest: datetime | None) -> tuple[datetime | None, Paths, bool]:
        """When it was done, the members that say so, and whether they would have said it."""
        if self.done:
            leaf = self.done.leaf(scope)
            return leaf.value if isinstance(leaf.value, datetime) else None, leaf.about, False
        follow_ups = self.follow_ups.items(scope)
        done = [
            (at.value, at.about)
            for item in follow_ups.items
            if isinstance(item, Branch) and _is(member(item, "kind"), self.follow_up)
            if isinstance(at := member(item, "at"), Leaf) and isinstance(at.value, datetime)
        ]
        if done:
            after = [one for one in done if earliest is None or one[0] >= earliest]
            return *min(after or done), True
        return None, follow_ups.about, not follow_ups.absent


def _is(node: object, value: str | None) -> bool:
    return isinstance(node, Leaf) and node.value == value


def _moment(params: Params, raw: object) -> FactPath:
    path = params.path(raw)
    if path.term.sort not in ("time", "day"):
        raise RuleError("rule/not_a_moment", {"path": path.text})
    return path
