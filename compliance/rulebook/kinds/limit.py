"""Kind `limit`: a quantity stays within bounds."""

from dataclasses import dataclass
from functools import cmp_to_key
from typing import Self

from compliance.rulebook.bounds import Bounds, order, read_bounds, sayable
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, Limited, Seen, missing
from compliance.rulebook.outcome import MET, NOT_APPLICABLE, Outcome
from compliance.rulebook.reading import Params, one_of
from compliance.rulebook.sizes import Exact, Measured, Size
from compliance.rulebook.vocabulary import Measure
from shared.wording import Wording

_Seen = tuple[Size, Paths]


@dataclass(frozen=True)
class Limit(Kind):
    """Judges every value that was measured and names the worst; or the last one, if no other is unknown."""

    name = "limit"
    wordings = {
        "limit/met": Wording(
            "{quantity}: {observed}; {by}: {bound}.", "{quantity}: {observed}; {by}: {bound}."
        ),
        "limit/above": Wording(
            "{quantity} was {observed}; {by} allows {bound}. {mend}",
            "{quantity}: {observed}; {by} permite {bound}. {mend}",
        ),
        "limit/below": Wording(
            "{quantity} was {observed}; {by} asks for at least {bound}. {mend}",
            "{quantity}: {observed}; {by} exige al menos {bound}. {mend}",
        ),
        "limit/nothing_measured": Wording(
            "There is nothing here that this limit could be measured on.",
            "Aquí no hay nada en que medir este límite.",
        ),
    }

    measure: Measure
    bounds: Bounds
    last_only: bool = False

    @classmethod
    def read(cls, params: Params) -> Self:
        known = params.setting.vocabulary.measures
        measure = known[params.value("quantity", one_of(known))]
        if params.setting.judges not in measure.judged_on:
            allowed = ", ".join(measure.judged_on)
            blanks = {"what": measure.name, "judges": params.setting.judges, "allowed": allowed}
            raise RuleError("rule/wrong_subject", blanks, ("quantity",))
        over = params.maybe("over", one_of(("every", "last")))
        return cls(measure, read_bounds(params, measure.dimensions), over == "last")

    def judge(self, scope: Scope) -> Judgement:
        measured = scope.subject.measure(self.measure.name, self.bounds.unit)
        if self.last_only:
            measured = (*(one for one in measured[:-1] if one.value is None), *measured[-1:])
        if not measured:
            return Judgement(NOT_APPLICABLE, "limit/nothing_measured", ())
        known = [(one.value, one.about) for one in measured if one.value is not None]
        if len(known) > 1:
            known.sort(key=cmp_to_key(_by_size))
        least, most = self.bounds.min, self.bounds.max
        if known and most is not None and order(known[-1][0], most) > 0:
            return self._said(Outcome.NOT_MET, "limit/above", known[-1], most)
        if known and least is not None and order(known[0][0], least) < 0:
            return self._said(Outcome.NOT_MET, "limit/below", known[0], least)
        if len(known) < len(measured):
            return _unknown([one for one in measured if one.value is None], self.bounds)
        return self._said(MET, "limit/met", known[0 if most is None else -1], None)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def limits(self) -> tuple[Limited, ...]:
        return (Limited(self.measure, self.bounds),)

    def _said(self, outcome: Outcome, wording: str, worst: _Seen, broken: Size | None) -> Judgement:
        value, about = worst
        if isinstance(value, Exact) and broken is not None:
            value = value.told_apart_from(broken)
        blanks = {
            "quantity": self.measure.label,
            "observed": sayable(value),
            "bound": self.bounds if broken is None else sayable(broken),
        }
        return Judgement(outcome, wording, about, blanks, value, self.bounds, mend=self.measure.mend)


def _unknown(measured: list[Measured], bound: Seen) -> Judgement:
    """What is not stated comes first; only if nothing is, what does not go together."""
    not_stated = [one for one in measured if one.why is None]
    if not_stated:
        return missing(tuple(path for one in not_stated for path in one.lacks), bound)
    return missing(measured[0].lacks, bound, measured[0].why)


def _by_size(left: _Seen, right: _Seen) -> int:
    return order(left[0], right[0])
