"""How long signs stay, and what a follow-up says of one that came down."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from compliance.rulebook.durations import Duration, read_duration, said_moment
from compliance.rulebook.facts import Branch, Paths, Scope, leaf_of
from compliance.rulebook.kind import Judgement, missing
from compliance.rulebook.lead import Work
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_yes_no, one_of
from compliance.rulebook.removal import Removal
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.wording import Blank, Wording

THE_WORK = "the work"
From = Literal["unknown", "finish", "posting"]

_FROM_THE_START = Wording(
    "They went up before the work began, and their time counts from its start.",
    "Se colocaron antes de empezar el trabajo, y su tiempo cuenta desde el inicio.",
)


@dataclass(frozen=True)
class Standing:
    """The signs that are right: when each went up, how many of them the law wants, and the work."""

    posted: tuple[datetime, ...]
    least: int
    work: Work

    def outlasts(self, removal: datetime) -> bool:
        """Whether enough of them went up after a sign came down, so that it may have been none of them."""
        return sum(at > removal for at in self.posted) >= self.least

    def gone_before_the_work(self, removals: list[Removal]) -> Removal | None:
        """A sign that came down before the work began, where too few were left."""
        start = self.work.start
        known = [one for one in removals if one.at and not one.lacks and not self.outlasts(one.at)]
        gone = [one for one in known if one.at and start and one.at < start]
        return gone[0] if gone and len(self.posted) - len(gone) < self.least else None


@dataclass(frozen=True)
class Stay:
    """A length from the finish (none at all: to the end of the work) or from when they were put up, and with
    `reentry` as long as people must stay out. Of a stay that is `unknown`, or `in_doubt`, it can't be told
    whether a sign that came down after the work began came down too soon."""

    since: From
    length: Duration | None
    reentry: FactPath | None
    in_doubt: bool

    def until(self, standing: Standing, scope: Scope) -> tuple[datetime | None, Paths]:
        """Until when they stay at least, and what is missing to know it, or to know that it is not longer."""
        work = standing.work
        since = work.end
        if self.since == "posting":
            since = max(*standing.posted, work.start) if work.start else max(standing.posted)
        if since is None:
            return None, work.end_about
        until = self.length.after(since, scope.facts) if self.length else scope.facts.local(since)
        if self.reentry is None:
            return until, ()
        reentry = self.reentry.leaf(scope)
        longer = scope.facts.local(reentry.value) if isinstance(reentry.value, datetime) else until
        return max(until, longer), reentry.lacks

    def counted(self, standing: Standing) -> Wording:
        """That a sign went up before the law's moment does not shorten how long it stays."""
        start = standing.work.start
        early = start is not None and all(at < start for at in standing.posted)
        return _FROM_THE_START if self.since == "posting" and early else Wording("", "")

    def judge(self, standing: Standing, removals: list[Removal], scope: Scope) -> Judgement | None:
        """What follow-ups say of signs that came down too soon, or may have; None if nothing."""
        if not removals:
            return None
        if gone := standing.gone_before_the_work(removals):
            return self._said(Outcome.NOT_MET, "gone", gone, standing.work.start, scope)
        until, lacks = (None, ()) if self.since == "unknown" else self.until(standing, scope)
        judged = [self._of(one, standing, until, lacks, scope) for one in removals]
        found = [one for one in judged if one]
        found.sort(key=lambda one: one.outcome is not Outcome.NOT_MET)
        return found[0] if found else None

    def _of(
        self, removal: Removal, standing: Standing, until: datetime | None, lacks: Paths, scope: Scope
    ) -> Judgement | None:
        at = removal.at
        if at is None:
            return missing(removal.lacks)
        if until is not None and at >= until:
            return missing(lacks) if lacks else None
        if removal.lacks:
            return missing(removal.lacks)
        if standing.outlasts(at):
            return self._said(Outcome.CANT_TELL, "another", removal, until, scope)
        if self.since == "unknown":
            return self._said(Outcome.CANT_TELL, "how_long", removal, None, scope)
        if until is None:
            return missing(lacks)
        if self.in_doubt:
            return self._said(Outcome.CANT_TELL, "perhaps", removal, until, scope)
        return self._said(Outcome.NOT_MET, "removed", removal, until, scope)

    def _said(
        self, outcome: Outcome, wording: str, removal: Removal, until: datetime | None, scope: Scope
    ) -> Judgement:
        at, bound = removal.at, until.isoformat() if until else None
        blanks: dict[str, Blank] = {
            "removed": said_moment(scope.facts.local(at)) if at else "?",
            "until": said_moment(scope.facts.local(until)) if until else "?",
        }
        return Judgement(
            outcome, f"posting/{wording}", removal.about, blanks, at.isoformat() if at else None, bound
        )


def read_stay(params: Params) -> Stay:
    """`kept`, and with it from when it is counted, whether re-entry prolongs it, whether it is in doubt.
    Raises RuleError."""
    if not params.has("kept"):
        return Stay("unknown", None, None, False)

    def read(raw: object) -> Duration | None:
        return None if raw == THE_WORK else read_duration(params, raw)

    length = params.value("kept", read)
    since = params.maybe("kept_from", one_of(("finish", "posting"))) if length else None
    or_reentry = params.maybe("or_reentry", as_yes_no)
    return Stay(
        "posting" if since == "posting" else "finish",
        length,
        read_path("treatment.reentry", params.setting.roots) if or_reentry else None,
        params.maybe("kept_in_doubt", as_yes_no) or False,
    )


def posted_at(signs: list[Branch]) -> tuple[datetime, ...]:
    """When each of the signs went up."""
    moments = (leaf_of(sign, "posted_at").value for sign in signs)
    return tuple(at for at in moments if isinstance(at, datetime))
