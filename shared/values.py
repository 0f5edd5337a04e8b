"""Small values that are made by the thousand."""

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

Made = TypeVar("Made")


@dataclass_transform(frozen_default=True)
def value(cls: type[Made]) -> type[Made]:
    """A slotted dataclass that the type checker holds to be frozen.

    Freezing at run time makes each value three times as long to make: too long where one check makes a
    thousand. Two of them are equal, and hash alike, if all their fields do.
    """
    return dataclass(slots=True, unsafe_hash=True)(cls)
