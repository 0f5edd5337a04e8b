"""Kind `not_stated`: made for a label of which something was not entered; no pack can use it."""

from dataclasses import dataclass

from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.outcome import Outcome


@dataclass(frozen=True)
class NotStated(Kind):
    """Can't tell what the label says, because the document does not state it, or states (`as_none`) that it
    says nothing, which hardly any label does."""

    name = "not_stated"
    paths: Paths
    as_none: bool = False

    def judge(self, scope: Scope) -> Judgement:
        if self.as_none:
            return Judgement(Outcome.CANT_TELL, "entered_as_none", self.paths)
        return missing(self.paths)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.CANT_TELL})
