"""The four outcomes, and what several of them come to."""

from collections.abc import Iterable
from enum import StrEnum


class Outcome(StrEnum):
    """What a rule says of a treatment, the worst first."""

    NOT_MET = "not_met"
    CANT_TELL = "cant_tell"
    MET = "met"
    NOT_APPLICABLE = "not_applicable"


RANK = {outcome: place for place, outcome in enumerate(Outcome)}


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Not met before can't tell before met before doesn't apply; of none, doesn't apply."""
    return min(outcomes, key=RANK.__getitem__, default=Outcome.NOT_APPLICABLE)
