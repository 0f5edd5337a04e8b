"""One thing of a record file that was looked at."""

from dataclasses import dataclass

from records.document.faults import Fault


@dataclass(frozen=True)
class Proof:
    """It holds, or there is a `fault`, or this copy withholds it, or the file states it unsigned."""

    path: str
    fault: Fault | None = None
    withheld: bool = False
    stated: bool = False
