"""Kind `not_stated`: made for a label of which something was not entered; no pack can use it."""

from dataclasses import dataclass

from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.outcome import Outcome


@dataclass(frozen=True)
class NotStated(Kind):
    """Can't tell what the label says, because the document does not state it."""

    name = "not_stated"
    paths: Paths

    def judge(self, scope: Scope) -> Judgement:
        return missing(self.paths)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.CANT_TELL})
