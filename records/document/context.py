"""The context: what a rule may need beside the document, read as strictly as the document.

A member that is left out is unknown; an empty list is knowledge (nothing earlier, nobody to tell).
"""

from collections.abc import Sequence
from itertools import islice
from typing import Annotated, Any

from records.document.faults import Fault
from records.document.follow_up import FollowUp
from records.document.json_text import Bounds, load
from records.document.kinds import Word
from records.document.paths import values_at
from records.document.reader import moved, read_as
from records.document.references import disagreements
from records.document.types import (
    LIST_ITEMS,
    Address,
    CalendarDay,
    Id,
    Length,
    Many,
    Moment,
    OpenText,
    Part,
    Place,
    TreatmentDocument,
    VolumeOrMass,
    YesNo,
)

CONTEXT_BOUNDS = Bounds(most_bytes=32 * 1024 * 1024)


class Neighbour(Part):
    """Somebody near the site, with the distance between the nearest edges."""

    id: Id | None = None
    name: OpenText | None = None
    address: Address | None = None
    distance: Length | None = None
    abutting: YesNo | None = None
    dwelling: YesNo | None = None


class RegisteredPerson(Neighbour):
    """A person who is on an authority's register of those to be told."""

    authority: Place | None = None


class SentNotice(Part):
    """Whom an entry of the document's notices was for, by the id in their list; `otherwise`: it said of the
    visit something else than the document does; `lost`: it came back, or came to somebody else."""

    id: Id | None = None
    person: Id | None = None
    otherwise: YesNo | None = None
    lost: YesNo | None = None


class Stock(Part):
    """What the firm has of a lot."""

    lot: OpenText | None = None
    on_hand: VolumeOrMass | None = None


class Determination(Part):
    """The firm's dated answer to an open question of a pack."""

    question: OpenText | None = None
    answer: OpenText | None = None
    by: OpenText | None = None
    advice: OpenText | None = None
    valid_from: CalendarDay | None = None
    valid_to: CalendarDay | None = None


class PermitHeld(Part):
    """A permit of the firm, the kinds of surface that it covers, and the days on which it is valid."""

    authority: Place | None = None
    number: OpenText | None = None
    surfaces: Many[Annotated[str, Word("surface_kind")]] | None = None
    valid_from: CalendarDay | None = None
    valid_to: CalendarDay | None = None


class Context(Part):
    """Earlier documents and follow-ups stand newest first."""

    on: CalendarDay | None = None
    earlier: Many[TreatmentDocument] | None = None
    follow_ups: Many[FollowUp] | None = None
    received_at: Moment | None = None
    neighbours: Many[Neighbour] | None = None
    registered_persons: Many[RegisteredPerson] | None = None
    sent_notices: Many[SentNotice] | None = None
    stock: Many[Stock] | None = None
    determinations: Many[Determination] | None = None
    permits: Many[PermitHeld] | None = None


def read_context(data: bytes | str | dict[str, Any]) -> Context:
    """The context in a JSON text (or in its parsed object).

    Raises DocumentFaults; every path begins with `context`.
    """
    value = load(data, CONTEXT_BOUNDS, "context")
    return read_as(Context, value, _disagreements_of_earlier, prefix="context")


def _disagreements_of_earlier(context: object, shape_faults: Sequence[Fault]) -> list[Fault]:
    """Only of as many as may stand there: how many are too many is a fault of its own."""
    faults = []
    for path, document in islice(values_at(context, "earlier[]"), LIST_ITEMS):
        within = [
            Fault(fault.path.removeprefix(f"{path}."), fault.wording)
            for fault in shape_faults
            if fault.path.startswith(f"{path}.")
        ]
        faults += [moved(fault, path) for fault in disagreements(document, within)]
    return faults
