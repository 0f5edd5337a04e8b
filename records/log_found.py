"""What a look at a firm's log found."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from records.document.faults import Fault
from records.models import Erasure, HeadTimeStamp, KeyChange, SignedFollowUp, SignedRecord
from shared.merkle import EMPTY, Hash

KEY_NAME = len("sha256:") + 16
LATE = timedelta(days=2)


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
    """What was looked at so far; `before_heads` are entries that came in before signed heads were kept."""

    entries: int = 0
    heads: int = 0
    before_heads: int = 0
    root: Hash = EMPTY
    broken: list[Broken] = field(default_factory=list)
    erased: list[Erased] = field(default_factory=list)
    key_changes: list[KeyChange] = field(default_factory=list)
    time_stamps: int = 0
    newest_time_stamp: HeadTimeStamp | None = None
    strange_time_stamps: int = 0
    late_time_stamps: list[HeadTimeStamp] = field(default_factory=list)
    days_without_time_stamp: list[date] = field(default_factory=list)

    def take(self, stamp: HeadTimeStamp, why: str) -> None:
        """Count a time-stamp, the newest last, and keep why it does not hold. One of a stranger proves nothing;
        that is no fault of the log."""
        if why == "stranger":
            self.strange_time_stamps += 1
            return
        self.time_stamps += 1
        self.newest_time_stamp = stamp
        if stamp.at - stamp.head.made_at > LATE:
            self.late_time_stamps.append(stamp)
        if why:
            self.broken.append(Broken("", Fault("", f"log/time_stamp_{why}", {"size": str(stamp.head.size)})))


def name_of(signed: SignedRecord | SignedFollowUp | KeyChange | Erasure) -> str:
    """`2026-0147 v1`, or what follows it, the number of what was erased, the beginning of a key's digest."""
    if isinstance(signed, KeyChange):
        return signed.key.digest[:KEY_NAME]
    if isinstance(signed, Erasure):
        return str(signed.treatment.number)
    if isinstance(signed, SignedRecord):
        return f"{signed.treatment.number} v{signed.version}"
    return f"{name_of(signed.follows)}, {signed.kind}"
