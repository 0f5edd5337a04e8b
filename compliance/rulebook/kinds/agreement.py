"""Kind `agreement`: figures of one document that must go together, and things that can't both be so."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Self

from compliance.rulebook.bounds import order
from compliance.rulebook.conditions import Condition, Verdict, read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.outcome import MET, NOT_APPLICABLE, NOT_MET, Outcome
from compliance.rulebook.reading import Params, as_wording, as_yes_no, one_of, quantity
from compliance.rulebook.sizes import Exact, Measured
from compliance.rulebook.vocabulary import Figures
from shared.quantities import Quantity
from shared.wording import Blank, Wording

_CHECK = Wording(
    "Check the figures; if they are right, say why on the record.",
    "Compruebe las cifras; si son correctas, explique el motivo en el registro.",
)


@dataclass(frozen=True)
class Agreement(Kind):
    """A record must be able to tell the truth: figures that disagree are findings, never faults.

    Only what is stated can disagree: where a figure is left out there is nothing to set against the other,
    and a `never` of which a part is unknown doesn't apply. With `leaves_open` a contradiction is no breach: it
    leaves unknown what other rules were to be asked of the record.
    """

    name = "agreement"
    wordings = {
        "agreement/met": Wording(
            "{what}: {observed} against {bound}.", "{what}: {observed} frente a {bound}."
        ),
        "agreement/not_met": Wording(
            "{what}: {observed} against {bound}, a difference of {differs} where {tolerance} is allowed for. "
            "{mend}",
            "{what}: {observed} frente a {bound}, una diferencia del {differs} cuando se admite {tolerance}. "
            "{mend}",
        ),
        "agreement/nothing": Wording(
            "{what}: nothing to set against each other is stated.",
            "{what}: no consta nada que comparar.",
        ),
        "agreement/not_all": Wording(
            "Not all that could contradict itself here is stated.",
            "No consta todo lo que aquí podría contradecirse.",
        ),
        "agreement/contradicts": Wording("{says} {mend}", "{says} {mend}"),
        "agreement/leaves_open": Wording("Can't tell: {says} {mend}", "No se puede saber: {says} {mend}"),
        "agreement/no_contradiction": Wording(
            "The record does not contradict itself in this.", "El registro no se contradice en esto."
        ),
    }

    figures: Figures | None = None
    tolerance: Quantity | None = None
    never: Condition | None = None
    says: Wording | None = None
    leaves_open: bool = False

    @classmethod
    def read(cls, params: Params) -> Self:
        if params.which("figures", "never") == "never":
            never = params.value("never", lambda raw: read_condition(params, raw))
            says = params.value("says", as_wording)
            return cls(never=never, says=says, leaves_open=params.maybe("leaves_open", as_yes_no) or False)
        known = params.setting.vocabulary.figures
        figures = known[params.value("figures", one_of(known))]
        if params.setting.judges != figures.judged_on:
            blanks = {"what": figures.name, "judges": params.setting.judges, "allowed": figures.judged_on}
            raise RuleError("rule/wrong_subject", blanks, ("figures",))
        return cls(figures, params.value("tolerance", quantity("share")))

    def judge(self, scope: Scope) -> Judgement:
        if self.figures and self.tolerance:
            return self._compare(scope, self.figures, self.tolerance)
        verdict = self.never(scope) if self.never else Verdict(None)
        if verdict.truth is None:
            return Judgement(NOT_APPLICABLE, "agreement/not_all", verdict.about)
        if not verdict.truth:
            return Judgement(MET, "agreement/no_contradiction", verdict.about)
        blanks: dict[str, Blank] = {"says": self.says or ""}
        if self.leaves_open:
            return Judgement(Outcome.CANT_TELL, "agreement/leaves_open", verdict.about, blanks, mend=_CHECK)
        return Judgement(NOT_MET, "agreement/contradicts", verdict.about, blanks, mend=_CHECK)

    def judge_nothing(self, lacks: Paths) -> Judgement:
        what = self.figures.label if self.figures else Wording("", "")
        return Judgement(NOT_APPLICABLE, "agreement/nothing", lacks, {"what": what})

    def possible(self) -> frozenset[Outcome]:
        found = Outcome.CANT_TELL if self.leaves_open else Outcome.NOT_MET
        return frozenset({Outcome.MET, found, Outcome.NOT_APPLICABLE})

    def _near(self, stated: Exact, whole: Exact, figures: Figures) -> bool:
        """Whether they differ by no more than the tolerance, on the side that matters."""
        side = order(stated, whole)
        least, most = self._shares
        if side > 0:
            return stated.value <= whole.value * most
        return side == 0 or figures.at_most or stated.value >= whole.value * least

    @cached_property
    def _shares(self) -> tuple[Fraction, Fraction]:
        """Of the whole, the least and the most that still agrees with it."""
        share = self.tolerance.to("percent") / 100 if self.tolerance else Fraction(0)
        return 1 - share, 1 + share

    def _compare(self, scope: Scope, figures: Figures, tolerance: Quantity) -> Judgement:
        pair: tuple[Measured, ...] = scope.subject.measure(figures.name, None)
        stated, whole = [side.value for side in pair] or (None, None)
        if not isinstance(stated, Exact) or not isinstance(whole, Exact):
            return self.judge_nothing((scope.subject.path,) if scope.subject.path else ())
        blanks: dict[str, Blank] = {"what": figures.label, "observed": stated, "bound": whole}
        about = (*pair[0].about, *pair[1].about)
        if self._near(stated, whole, figures):
            return Judgement(MET, "agreement/met", about, blanks, stated, whole)
        differs = 100 * abs(stated.value - whole.value)
        share = Exact(differs / whole.value, "percent", 2) if whole.value else Wording("—", "—")
        blanks |= {"tolerance": tolerance, "differs": share}
        return Judgement(NOT_MET, "agreement/not_met", about, blanks, stated, whole, mend=_CHECK)
