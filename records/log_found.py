"""What a look at a firm's log found."""

from dataclasses import dataclass, field

from records.document.faults import Fault
from records.models import Erasure
from shared.merkle import EMPTY, Hash


@dataclass(frozen=True)
class Broken:
    """Something that does not hold: of which record (its number and version; empty: of the log itself)."""

    whose: str
    fault: Fault


@dataclass(frozen=True)
class Erased:
    """Of which record (number and version) sections were erased after their term."""

    whose: str
    erasure: Erasure
    sections: list[str]


@dataclass
class Looked:
    """What was looked at so far."""

    entries: int = 0
    heads: int = 0
    root: Hash = EMPTY
    broken: list[Broken] = field(default_factory=list)
    erased: list[Erased] = field(default_factory=list)
