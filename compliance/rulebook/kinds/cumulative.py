"""Kind `cumulative`: totals of a calendar year, this treatment counted."""

from dataclasses import dataclass
from functools import cmp_to_key
from typing import Self

from compliance.rulebook.bounds import Bounds, order, read_bounds, sayable
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, Limited, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, one_of
from compliance.rulebook.sizes import Size
from compliance.rulebook.vocabulary import Measure
from shared.wording import Wording

_MEASURES = {
    ("product", "site"): "site_per_year",
    ("product", "area"): "per_year",
    ("treatments", "site"): "site_applications_per_year",
    ("treatments", "surface"): "applications_per_year",
}


@dataclass(frozen=True)
class Cumulative(Kind):
    """Product applied, or treatments with it, on a site, a surface or an area; the highest total is named."""

    name = "cumulative"
    judges = ("products",)
    wordings = {
        "cumulative/met": Wording(
            "{quantity}: {observed} with this treatment; {by}: {bound} in a calendar year.",
            "{quantity}: {observed} con este tratamiento; {by}: {bound} por año natural.",
        ),
        "cumulative/not_met": Wording(
            "{quantity}: {observed} with this treatment; {by} asks for {bound} in a calendar year. {mend}",
            "{quantity}: {observed} con este tratamiento; {by} exige {bound} por año natural. {mend}",
        ),
    }

    measure: Measure
    bounds: Bounds

    @classmethod
    def read(cls, params: Params) -> Self:
        total = params.value("total", one_of(("product", "treatments")))
        per = params.value("per", one_of(("site", "surface", "area")))
        if (total, per) not in _MEASURES:
            allowed = ", ".join(place for what, place in _MEASURES if what == total)
            raise RuleError("rule/unknown_word", {"got": per, "allowed": allowed}, ("per",))
        measure = params.setting.vocabulary.measures[_MEASURES[total, per]]
        return cls(measure, read_bounds(params, measure.dimensions))

    def judge(self, scope: Scope) -> Judgement:
        measured = scope.subject.measure(self.measure.name, self.bounds.unit)
        known = [(one.value, one.about) for one in measured if one.value is not None]
        known.sort(key=cmp_to_key(_by_size))
        broken = [one for one in (*known[-1:], *known[:1]) if not self.bounds.hold(one[0])]
        if not broken and (len(known) < len(measured) or not known):
            lacks = tuple(path for one in measured for path in one.lacks)
            return missing(lacks or ("surfaces",), self.bounds)
        value, about = broken[0] if broken else known[-1]
        outcome = Outcome.NOT_MET if broken else Outcome.MET
        blanks = {"quantity": self.measure.label, "observed": sayable(value), "bound": self.bounds}
        return Judgement(
            outcome, f"cumulative/{outcome}", about, blanks, value, self.bounds, mend=self.measure.mend
        )

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def limits(self) -> tuple[Limited, ...]:
        return (Limited(self.measure, self.bounds),)


def _by_size(left: tuple[Size, Paths], right: tuple[Size, Paths]) -> int:
    return order(left[0], right[0])
