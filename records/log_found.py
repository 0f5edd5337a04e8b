"""What a look at a firm's log found."""

from dataclasses import dataclass, field

from records.document.faults import Fault
from records.models import Erasure, HeadTimeStamp, LogEntry
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
    key_changes: list[LogEntry] = field(default_factory=list)
    time_stamps: int = 0
    newest_time_stamp: HeadTimeStamp | None = None
    strange_time_stamps: int = 0

    def take(self, stamp: HeadTimeStamp, why: str) -> None:
        """Count a time-stamp, the newest last, and keep why it does not hold. One of a stranger proves nothing;
        that is no fault of the log."""
        if why == "stranger":
            self.strange_time_stamps += 1
            return
        self.time_stamps += 1
        self.newest_time_stamp = stamp
        if why:
            self.broken.append(Broken("", Fault("", f"log/time_stamp_{why}", {"size": str(stamp.head.size)})))
