"""Kind `sums`: amounts on the record add up, within a tolerance."""

from dataclasses import dataclass
from typing import Self

from compliance.rulebook.bounds import order, sayable
from compliance.rulebook.facts import Paths, Scope, Size
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, one_of, quantity
from shared.quantities import Quantity
from shared.wording import Catalogue, Wording

SUMS: Catalogue = {
    "unaccounted": Wording(
        "Applied and left over against what was mixed", "Aplicado y sobrante frente a lo mezclado"
    ),
    "surfaces_differ": Wording(
        "Amounts on the surfaces against what was applied", "Cantidades por superficie frente a lo aplicado"
    ),
    "loads_differ": Wording("Loads against what was mixed", "Cargas frente a lo mezclado"),
}
"""What can be added up on a mix; each is measured as the share by which the sum differs from the whole."""


@dataclass(frozen=True)
class Sums(Kind):
    """A record must be able to tell the truth: sums that disagree are findings, never faults."""

    name = "sums"
    judges = ("mixes",)
    wordings = {
        "sums/met": Wording("{what}: the sums agree.", "{what}: las sumas coinciden."),
        "sums/not_met": Wording(
            "{what}: the sums differ by {observed}. Check the amounts; if they are right, say why. {mend}",
            "{what}: las sumas difieren en {observed}. Compruebe las cantidades; si son correctas, explique "
            "el motivo. {mend}",
        ),
        "sums/nothing": Wording("{what}: there is nothing to add up.", "{what}: no hay nada que sumar."),
    }

    of: str
    within: Quantity

    @classmethod
    def read(cls, params: Params) -> Self:
        return cls(params.value("of", one_of(SUMS)), params.value("within", quantity("share")))

    def judge(self, scope: Scope) -> Judgement:
        measured = scope.subject.measure(self.of, self.within.unit)
        known = [(one.value, one.about) for one in measured if one.value is not None]
        if known:
            return self._said(*known[0])
        blanks = {"what": SUMS[self.of]}
        return Judgement(Outcome.NOT_APPLICABLE, "sums/nothing", (scope.subject.path,), blanks)

    def possible(self) -> frozenset[Outcome]:
        return frozenset(Outcome)

    def _said(self, differs: Size, about: Paths) -> Judgement:
        outcome = Outcome.MET if order(differs, self.within) <= 0 else Outcome.NOT_MET
        blanks = {"what": SUMS[self.of], "observed": sayable(differs)}
        return Judgement(outcome, f"sums/{outcome}", about, blanks, differs, self.within)
