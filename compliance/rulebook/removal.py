"""Follow-ups that say, or may say, that a sign was taken down."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from compliance.rulebook.facts import Branch, Paths, leaf_of

_REMOVED = "sign-removed"


@dataclass(frozen=True)
class Removal:
    """When a sign came down; with `lacks` it is not known whether, or when, it did."""

    at: datetime | None
    about: Paths
    lacks: Paths

    def before(self, moment: datetime) -> bool:
        """Whether the sign came down before a moment, or may have."""
        return self.at is None or self.at < moment


def removals_among(follow_ups: Iterable[Branch]) -> list[Removal]:
    """Those of a sign, the earliest first, then those without a moment; one of no stated kind may be one."""
    found = []
    for one in follow_ups:
        kind, at = leaf_of(one, "kind"), leaf_of(one, "at")
        if kind.value in (None, _REMOVED):
            moment = at.value if isinstance(at.value, datetime) else None
            found.append(Removal(moment, at.about, kind.lacks + at.lacks))
    return sorted(found, key=lambda one: (one.at is None, one.at))
