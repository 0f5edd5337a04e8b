"""Kind `retention`: how long a record is kept. It never judges; it carries the day until which to keep."""

import re
from dataclasses import dataclass
from datetime import date, datetime
from typing import Self

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_text
from compliance.rulebook.vocabulary import FactPath
from shared.days import years_after
from shared.wording import Wording

_YEARS = re.compile(r"([1-9][0-9]?) years?")


@dataclass(frozen=True)
class Retention(Kind):
    """Doesn't apply to a document as such: it says until when the record is kept."""

    name = "retention"
    judges = ("document",)
    judging = False
    wordings = {
        "retention/keep": Wording("Keep the record until {until}.", "Guarde el registro hasta el {until}."),
        "retention/unknown": Wording(
            "Keep the record {years} years; from when, this is not stated: {members}.",
            "Guarde el registro {years} años; no consta desde cuándo: {members}.",
        ),
    }

    years: int
    after: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        after = params.value("after", params.path)
        if after.term.sort not in ("time", "day"):
            raise RuleError("rule/not_a_moment", {"path": after.text}, ("after",))
        return cls(params.value("keep", _years), after)

    def judge(self, scope: Scope) -> Judgement:
        leaf = self.after.leaf(scope)
        start = scope.facts.local(leaf.value).date() if isinstance(leaf.value, datetime) else leaf.value
        if not isinstance(start, date):
            return self._said("retention/unknown", leaf.lacks, {"years": str(self.years)}, None)
        until = years_after(start, self.years)
        return self._said("retention/keep", leaf.about, {"until": until.isoformat()}, until)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.NOT_APPLICABLE})

    def _said(self, wording: str, about: Paths, blanks: dict[str, str], until: date | None) -> Judgement:
        return Judgement(Outcome.NOT_APPLICABLE, wording, about, blanks, keep_until=until)


def _years(raw: object) -> int:
    match = _YEARS.fullmatch(as_text(raw))
    if not match:
        raise RuleError("rule/bad_duration", {"got": as_text(raw), "example": "7 years"})
    return int(match[1])
