"""The four outcomes, and what several of them come to."""

from collections.abc import Iterable
from enum import StrEnum


class Outcome(StrEnum):
    """What a rule says of a treatment, the worst first."""

    NOT_MET = "not_met"
    CANT_TELL = "cant_tell"
    MET = "met"
    NOT_APPLICABLE = "not_applicable"


MET, NOT_MET, NOT_APPLICABLE = Outcome.MET, Outcome.NOT_MET, Outcome.NOT_APPLICABLE
"""For what is judged by the dozen: until Python 3.12 a member of an enumeration is slow to look up."""

RANK = {outcome: place for place, outcome in enumerate(Outcome)}


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Not met before can't tell before met before doesn't apply; of none, doesn't apply."""
    return min(outcomes, key=RANK.__getitem__, default=Outcome.NOT_APPLICABLE)
