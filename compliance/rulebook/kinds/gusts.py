"""Kind `gusts`: made for a label that bounds the wind and says nothing of gusts; no pack can use it."""

from dataclasses import dataclass
from functools import cmp_to_key

from compliance.rulebook.bounds import order, sayable
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.sizes import Size
from compliance.rulebook.vocabulary import Measure


@dataclass(frozen=True)
class Gusts(Kind):
    """No gust that was measured lay above the bound of the wind; nothing where none was measured."""

    name = "gusts"
    measure: Measure
    most: Size

    def judge(self, scope: Scope) -> Judgement:
        measured = scope.subject.measure("gust", None)
        known = [(one.value, one.about) for one in measured if one.value is not None]
        if not known:
            return Judgement(Outcome.NOT_APPLICABLE, "nothing_to_judge", ())
        worst, about = max(known, key=cmp_to_key(_by_size))
        blanks = {"observed": sayable(worst), "bound": sayable(self.most)}
        outcome = Outcome.NOT_MET if order(worst, self.most) > 0 else Outcome.MET
        wording = "gust_above_wind" if outcome is Outcome.NOT_MET else "gusts_within"
        return Judgement(outcome, wording, about, blanks, worst, self.most, mend=self.measure.mend)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.NOT_APPLICABLE})


def _by_size(left: tuple[Size, Paths], right: tuple[Size, Paths]) -> int:
    return order(left[0], right[0])
