"""Kind `deadline`: by when a record, copy, report or incident notice is due."""

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Self

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
    """Met if done in time, not met if done late; not yet due: doesn't apply, with the moment. A record that was
    made before the work ended is none of it: can't tell.

    What was not done and is overdue can't be told from a member that is left out; a list of follow-ups
    without it says so.
    """

    name = "deadline"
    judges = ("document",)
    wordings = {
        "deadline/met": Wording(
            "Done {done}, in time (due {due}).", "Hecho el {done}, a tiempo (plazo: {due})."
        ),
        "deadline/late": Wording(
            "Done {done}; {by} wanted it by {due}. {mend}",
            "Hecho el {done}; {by} lo exigía a más tardar el {due}. {mend}",
        ),
        "deadline/before_the_end": Wording(
            "Recorded {done}, before the work ended ({ended}): a record of then cannot state how it ended. "
            "{mend}",
            "Se anotó el {done}, antes de acabar el trabajo ({ended}): un registro de entonces no puede decir "
            "cómo acabó. {mend}",
        ),
        "deadline/not_yet_due": Wording(
            "Not yet due: do it by {due}.", "Aún no vence: hágalo a más tardar el {due}."
        ),
        "deadline/not_done": Wording(
            "Not done; {by} wanted it by {due}. {mend}",
            "No se ha hecho; {by} lo exigía a más tardar el {due}. {mend}",
        ),
    }

    done: FactPath | None
    follow_up: str | None
    follow_ups: FactPath
    after: FactPath
    within: Duration
    ends: tuple[FactPath, ...]

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
        )

    def judge(self, scope: Scope) -> Judgement:
        start = self.after.leaf(scope)
        if not isinstance(start.value, date):
            return missing(start.lacks)
        due = self._due(scope, start.value)
        done, about, known = self._done(scope)
        blanks = {"due": said_moment(due)}
        if done:
            blanks["done"] = said_moment(scope.facts.local(done))
            if (end := self._end(scope)) and scope.facts.local(done) < end:
                blanks["ended"] = said_moment(end)
                lacks = (*about, *self.after.leaf(scope).about)
                return Judgement(Outcome.CANT_TELL, "deadline/before_the_end", lacks, blanks, mend=_WHICH)
            outcome = Outcome.MET if done <= due else Outcome.NOT_MET
            wording = "deadline/met" if done <= due else "deadline/late"
            return Judgement(
                outcome, wording, about, blanks, done.isoformat(), due.isoformat(), due, mend=_WHY
            )
        if scope.facts.on is None:
            return missing((*about, "context.on"))
        if scope.facts.on <= due.date():
            return Judgement(Outcome.NOT_APPLICABLE, "deadline/not_yet_due", about, blanks, due=due)
        if not known:
            return missing(about)
        bound = due.isoformat()
        return Judgement(
            Outcome.NOT_MET, "deadline/not_done", about, blanks, bound=bound, due=due, mend=_NOW
        )

    def possible(self) -> frozenset[Outcome]:
        return frozenset(Outcome)

    def _due(self, scope: Scope, start: date) -> datetime:
        local = scope.facts.local
        moment = start if isinstance(start, datetime) else local(datetime.combine(start, time()))
        return self.within.after(moment, scope.facts)

    def _end(self, scope: Scope) -> datetime | None:
        """The end of the work, if it is the record that must be made: else its start, or its day."""
        if self.done is None or self.done.text != _RECORDED:
            return None
        known = (path.leaf(scope).value for path in self.ends)
        stated = next((moment for moment in known if isinstance(moment, datetime)), None)
        if stated is None and scope.facts.day:
            stated = datetime.combine(scope.facts.day, time())
        return scope.facts.local(stated) if stated else None

    def _done(self, scope: Scope) -> tuple[datetime | None, Paths, bool]:
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
            return *min(done), True
        return None, follow_ups.about, not follow_ups.absent


def _is(node: object, value: str | None) -> bool:
    return isinstance(node, Leaf) and node.value == value


def _moment(params: Params, raw: object) -> FactPath:
    path = params.path(raw)
    if path.term.sort not in ("time", "day"):
        raise RuleError("rule/not_a_moment", {"path": path.text})
    return path
