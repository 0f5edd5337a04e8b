"""Prepare the notices of several treatments at once, each as it is chosen by default."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from compliance.papers.notice import NoticeContent
from compliance.services.telling import Choice, Round, Visit
from compliance.services.to_tell import ToTell
from compliance.services.unsaid import unsaid
from compliance.services.visit_said import offered
from records.models import Treatment, User
from records.outbox.queueing import queue


@dataclass
class ByDefault:
    """One treatment's notices to all who are due: by the best way to each, in their language, and
    with what its own page offers to say of the visit."""

    treatment: Treatment

    @cached_property
    def round(self) -> Round:
        return Round(self.treatment)

    @property
    def due(self) -> list[ToTell]:
        return [one for one in self.round.people if one.is_due]

    @property
    def unreached(self) -> list[ToTell]:
        """Those to whom no way is known, or none that has not failed."""
        return [one for one in self.due if not one.can_be_told]

    @cached_property
    def to_be_typed(self) -> list[ToTell]:
        """Those whose notice a law wants to say what no record answers: that is typed first."""
        lines = unsaid(self.round, self._reached, self.visit) if self._has_time else {}
        keys = {one.key for people in lines.values() for one in people}
        return [one for one in self.due if one.key in keys or not self._has_time]

    @cached_property
    def chosen(self) -> dict[str, Choice]:
        left_out = {one.key for one in self.to_be_typed}
        return {key: choice for key, choice in self._reached.items() if key not in left_out}

    @property
    def _has_time(self) -> bool:
        return self.round.plan.start is not None

    @cached_property
    def _reached(self) -> dict[str, Choice]:
        return {one.key: Choice(one.ways[0], one.languages) for one in self.due if one.can_be_told}

    @cached_property
    def visit(self) -> Visit:
        return offered(self.round)

    def contents(self) -> Iterator[tuple[ToTell, Choice, NoticeContent]]:
        """What each is told."""
        if self.chosen:
            yield from self.round.contents(self.chosen, self.visit)

    def send(self, by: User) -> int:
        """How many notices are new. Raises PermissionDenied."""
        return queue(self.treatment, self.round.pieces(self.chosen, self.visit), by) if self.chosen else 0
