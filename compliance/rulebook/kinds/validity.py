"""Kind `validity`: a dated thing (a label's version, a permit) was in force on the day of the treatment."""

from dataclasses import dataclass
from datetime import date
from typing import Self

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Leaf, Scope
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params
from compliance.rulebook.vocabulary import FactPath
from shared.wording import Blank, Wording


@dataclass(frozen=True)
class Validity(Kind):
    """Both days count; one that is left out is open, and without either it can't tell."""

    name = "validity"
    wordings = {
        "validity/met": Wording("In force on {day}: {bound}.", "En vigor el {day}: {bound}."),
        "validity/not_met": Wording(
            "Not in force on {day}: {by} is for {bound}. Use the version that is on the container. {mend}",
            "No está en vigor el {day}: {by} rige {bound}. Use la versión que lleva el envase. {mend}",
        ),
    }

    valid_from: FactPath
    valid_to: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        def read(raw: object) -> FactPath:
            path = params.path(raw)
            if path.term.sort != "day":
                raise RuleError("rule/not_a_moment", {"path": path.text})
            return path

        return cls(params.value("valid_from", read), params.value("valid_to", read))

    def judge(self, scope: Scope) -> Judgement:
        day, first, last = scope.facts.day, self.valid_from.leaf(scope), self.valid_to.leaf(scope)
        start, end = _day(first), _day(last)
        if day is None or (start is None and end is None):
            return missing(scope.facts.day_lacks if day is None else first.lacks + last.lacks)
        bound, seen = Span(start, end), day.isoformat()
        blanks: dict[str, Blank] = {"day": seen, "bound": bound}
        if (start or day) <= day <= (end or day):
            about = (first.about if start else ()) + (last.about if end else ())
            return Judgement(Outcome.MET, "validity/met", about, blanks, seen, bound.say("en"))
        broken = last if end is not None and day > end else first
        return Judgement(Outcome.NOT_MET, "validity/not_met", broken.about, blanks, seen, bound.say("en"))

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})


def _day(leaf: Leaf) -> date | None:
    return leaf.value if isinstance(leaf.value, date) else None


@dataclass(frozen=True)
class Span:
    """First and last day, both of which count; an end that is None is open."""

    first: date | None
    last: date | None

    def say(self, language: str) -> str:
        """`2025-03-01 to 2026-12-31`, `from 2025-03-01 on`, `until 2026-12-31`."""
        english = language == "en"
        if self.first and self.last:
            return f"{self.first.isoformat()} {'to' if english else 'a'} {self.last.isoformat()}"
        if self.first:
            return f"from {self.first.isoformat()} on" if english else f"desde el {self.first.isoformat()}"
        last = self.last.isoformat() if self.last else "?"
        return f"until {last}" if english else f"hasta el {last}"
