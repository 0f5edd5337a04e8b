"""The order in which findings stand."""

from collections.abc import Iterable
from itertools import chain
from operator import attrgetter

from compliance.rulebook.finding import Finding
from compliance.rulebook.outcome import NOT_APPLICABLE, Outcome

_WITHIN_AN_OUTCOME = attrgetter("basis.pack", "basis.rule", "judgement.about")


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the order in which they stand: outcome, pack, rule, members."""
    ranked: list[list[Finding]] = [[] for _ in Outcome]
    for finding in findings:
        outcome = NOT_APPLICABLE if finding.to_do else finding.judgement.outcome
        ranked[outcome.rank].append(finding)
    for same in ranked:
        same.sort(key=_WITHIN_AN_OUTCOME)
    return list(chain.from_iterable(ranked))
