"""How the hand-written check reaches into the facts, and what it writes its findings with."""

from collections.abc import Mapping
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.facts import Branch, Facts, Items, Leaf, Node
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.kind import Judgement, Seen
from compliance.rulebook.outcome import Outcome
from shared.quantities import Quantity
from shared.wording import Wording

Names = tuple[str, ...]
MET, NOT_MET, NOT_APPLICABLE = Outcome.MET, Outcome.NOT_MET, Outcome.NOT_APPLICABLE


class Hand:
    """The facts of one treatment, and the findings so far."""

    def __init__(self, facts: Facts, bases: Mapping[str, Basis]) -> None:
        self.facts = facts
        self.root = facts.root
        self.bases = bases
        self.findings: list[Finding] = []

    def say(self, rule: str, judgement: Judgement, whose: str = "") -> None:
        basis = self.bases[rule]
        self.findings.append(Finding(basis, judgement, basis.level, VOCABULARY, whose))

    def met(
        self,
        rule: str,
        wording: str,
        about: Names,
        blanks: Mapping[str, Any] | None = None,
        observed: Seen = None,
        bound: Seen = None,
        mend: Wording | None = None,
        whose: str = "",
    ) -> None:
        judgement = Judgement(MET, wording, about, blanks or {}, observed, bound, mend=mend)
        self.say(rule, judgement, whose)

    def let_be(self, rule: str, about: Names, otherwise: Wording, whose: str = "") -> None:
        """The rule does not apply."""
        judgement = Judgement(NOT_APPLICABLE, "does_not_apply", about, {"otherwise": otherwise})
        self.say(rule, judgement, whose)


def node(owner: Branch, path: str) -> Node | None:
    step: Node | None = owner
    for name in path.split("."):
        step = step.members.get(name) if isinstance(step, Branch) else None
    return step


def has(owner: Branch, path: str) -> bool:
    found = node(owner, path)
    if isinstance(found, Items):
        return bool(found.items)
    return found is not None and not (isinstance(found, Leaf) and found.value is None)


def value(owner: Branch, path: str) -> object:
    found = node(owner, path)
    return found.value if isinstance(found, Leaf) else None


def quantity(owner: Branch, path: str) -> Quantity:
    """A quantity that is known to be there."""
    found = value(owner, path)
    assert isinstance(found, Quantity)
    return found


def rows(owner: Branch, path: str) -> list[Branch]:
    found = node(owner, path)
    return [row for row in found.items if isinstance(row, Branch)] if isinstance(found, Items) else []


def words(owner: Branch, path: str) -> list[object]:
    found = node(owner, path)
    return [item.value for item in found.items if isinstance(item, Leaf)] if isinstance(found, Items) else []
