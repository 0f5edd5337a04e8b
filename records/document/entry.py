"""What the server adds to a signed record: as what it was taken in, when, and what replaced it since."""

from typing import Annotated

from records.document.kinds import Word
from records.document.types import CalendarDay, Digest, Many, Moment, OpenText, Part, WholeNumber

RecordKind = Annotated[str, Word("record_kind")]


class Entry(Part):
    """As what the record was taken in (`kind`), why, when the server got it, and the last part of the address
    at which anyone may see what proves it (`proof`)."""

    kind: RecordKind | None = None
    reason: OpenText | None = None
    received_at: Moment | None = None
    proof: OpenText | None = None


class SupersededBy(Part):
    """The newest version of the same record, where it is a later one."""

    version: WholeNumber | None = None
    digest: Digest | None = None
    kind: RecordKind | None = None


class Erased(Part):
    """Which sections of the record were erased after its term, and the rules that set it."""

    on: CalendarDay | None = None
    kept_until: CalendarDay | None = None
    under: Many[OpenText] | None = None
    sections: Many[OpenText] | None = None
