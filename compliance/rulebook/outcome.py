"""The four outcomes, and what several of them come to."""

from collections.abc import Iterable
from enum import StrEnum
from operator import attrgetter
from typing import Self


class Outcome(StrEnum):
    """What a rule says of a treatment, the worst first. `rank`: 0 for the worst."""

    rank: int

    def __new__(cls, text: str) -> Self:
        """A member, which knows its place."""
        member = str.__new__(cls, text)
        member._value_ = text
        member.rank = len(cls.__members__)
        return member

    NOT_MET = "not_met"
    CANT_TELL = "cant_tell"
    MET = "met"
    NOT_APPLICABLE = "not_applicable"


MET, NOT_MET, NOT_APPLICABLE = Outcome.MET, Outcome.NOT_MET, Outcome.NOT_APPLICABLE
"""For what is judged by the dozen: until Python 3.12 a member of an enumeration is slow to look up."""


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Not met before can't tell before met before doesn't apply; of none, doesn't apply."""
    return min(outcomes, key=attrgetter("rank"), default=Outcome.NOT_APPLICABLE)
