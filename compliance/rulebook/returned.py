"""Notices that may have come back: a follow-up says so, and does not say which."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from compliance.rulebook.durations import said_moment
from compliance.rulebook.facts import Branch, Leaf, Paths, Scope, branches, leaf_of
from compliance.rulebook.kind import Judgement, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.vocabulary import FactPath
from shared.wording import Blank, Sayable

_COMES_BACK = (None, "letter", "email", "text-message")
_RETURNED = "notice-returned"


@dataclass(frozen=True)
class Returns:
    """What the follow-ups say: `known` of notices that came back, `lacks` of what may be one."""

    known: tuple[Leaf, ...]
    lacks: Paths

    def doubt(self, notice: Branch, notices: Sequence[Branch], whom: Sayable, scope: Scope) -> Judgement | None:
        """Can't tell, where this notice may be the one that came back: it was sent before that, and its arrival
        is not stated, or that of no other is missing."""
        if not _by_post(notice):
            return None
        for at in self.known:
            sent = [one for one in notices if _by_post(one) and _sent_by(one, at)]
            lost = [one for one in sent if leaf_of(one, "delivered_at").value is None] or sent
            if notice in lost:
                moment = at.value
                returned = said_moment(scope.facts.local(moment)) if isinstance(moment, datetime) else "?"
                blanks: dict[str, Blank] = {"whom": whom, "returned": returned}
                return Judgement(Outcome.CANT_TELL, "notice/returned", at.about, blanks)
        return missing(self.lacks) if self.lacks else None


def returns_of(follow_ups: FactPath, scope: Scope) -> Returns:
    """The follow-ups on notices that came back; one of no stated kind may be one."""
    items = follow_ups.items(scope)
    if items.absent:
        return Returns((), items.lacks)
    kinds = [(one, leaf_of(one, "kind")) for one in branches(items)]
    known = tuple(leaf_of(one, "at") for one, kind in kinds if kind.value == _RETURNED)
    return Returns(known, tuple(path for _, kind in kinds if kind.value is None for path in kind.lacks))


def _by_post(notice: Branch) -> bool:
    return leaf_of(notice, "means").value in _COMES_BACK


def _sent_by(notice: Branch, at: Leaf) -> bool:
    """Whether it was sent before the moment, or may have been."""
    sent = leaf_of(notice, "sent_at").value
    if not isinstance(sent, datetime) or not isinstance(at.value, datetime):
        return True
    return sent <= at.value
