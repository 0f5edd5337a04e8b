"""The plain facts of what was handed over, of which the cover letter tells."""

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True)
class Signed:
    """A version that was signed after the request came, or a follow-up of one; `kind` is that of either."""

    number: str
    version: int
    at: datetime
    kind: str
    reason: str = ""
    fits_still: bool = True


@dataclass(frozen=True)
class Late:
    """`what` is the word for them: corrected, signed for the first time, followed up."""

    what: str
    named: tuple[Signed, ...]
    more: int


@dataclass(frozen=True)
class Since:
    """The bundle before, and how much has changed."""

    at: date
    digest: str
    withheld: tuple[str, ...]
    new: int = 0
    versions: int = 0
    follow_ups: int = 0
    gone: int = 0


@dataclass(frozen=True)
class Handed:
    """All that the letter tells. Times are on the firm's clock; parts that are left out are in words; `photos`
    is the word for whether they are in it, or why not; `searched` has each box of the search with what was in
    it, nothing where that is left out; `drafts` and `brought_in` are what fits and is not in it;
    `at` is when the log was searched, `erased` how many records were erased by then; `no_notices` where they
    name what is left out."""

    firm: str
    address: tuple[str, ...]
    day: date
    at: datetime
    to: str
    contact: str
    reference: str
    received: datetime
    means: str
    paragraph: str
    asked_for: str
    searched: tuple[tuple[str, str], ...]
    treatments: int
    versions: int
    first: date | None
    last: date | None
    replaced: int
    drafts: int
    brought_in: int
    erased: int
    sheets: tuple[str, ...]
    photos: str
    no_notices: bool
    findings: bool
    withheld: tuple[str, ...]
    late: tuple[Late, ...]
    since: Since | None
    log_size: int
    log_root: str
    by: str
    places: tuple[str, ...]
