"""All that waits on paper as one PDF, by the walk along the doors: the stored bytes, page for page."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from io import BytesIO
from itertools import islice
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from pypdf import PdfWriter

from records.models import Attempt, Neighbour, Notice, Occupant, Treatment, User
from records.models.notices import ON_PAPER
from records.outbox.by_hand import Deed, do
from records.outbox.outdated import still_holds, withdraw_outdated
from records.permissions import demand

AT_ONCE = 200
PDF = "application/pdf"


def on_paper(treatment: Treatment, state: Notice.State, hidden: Collection[str] = ()) -> QuerySet[Notice]:
    """The letters and cards in this state, but not those to the `hidden` kinds of people."""
    rows = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment, means__in=ON_PAPER)
    return rows.filter(state=state, erasure=None).exclude(to__in=hidden)


def to_print(treatment: Treatment, state: Notice.State, hidden: Collection[str] = ()) -> int:
    """How many of these papers tell what is planned."""
    papers = on_paper(treatment, state, hidden).defer("text")
    return sum(still_holds(one, treatment) for one in papers.iterator())


@transaction.atomic
def print_papers(
    treatment: Treatment, state: Notice.State, by: User, hidden: Collection[str] = ()
) -> bytes:
    """The papers in this state as one PDF, so many at once; each is printed from now on. What does not tell
    what is planned is left out, and withdrawn where it only waits. Empty where there are none. Raises
    PermissionDenied."""
    demand(by, "records.send_notices", treatment)
    withdraw_outdated(treatment, by)
    locked = on_paper(treatment, state, hidden).select_for_update(of=("self",))
    telling = (one for one in locked.iterator() if still_holds(one, treatment))
    notices = _in_walking_order(list(islice(telling, AT_ONCE)))
    for each in notices:
        do(each, Deed(Attempt.Kind.PRINTED), by)
    return _joined(notices)


def _joined(notices: Iterable[Notice]) -> bytes:
    writer = PdfWriter()
    for each in notices:
        for file in each.files.filter(media_type=PDF).order_by("place").select_related("kept"):
            writer.append(BytesIO(bytes(file.kept.content)))
    if not writer.pages:
        return b""
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _in_walking_order(notices: Sequence[Notice]) -> Sequence[Notice]:
    """Letters before cards, each by the walk."""
    walks = _walks(notices)
    return sorted(notices, key=lambda one: (one.means != "letter", walks.get(one.row, 0), one.made_at))


def _walks(notices: Sequence[Notice]) -> Mapping[UUID | None, int]:
    if not notices:
        return {}
    keys = [one.row for one in notices if one.row]
    neighbours = Neighbour.objects.for_firm(notices[0].firm).filter(pk__in=keys)
    occupants = Occupant.objects.for_firm(notices[0].firm).filter(pk__in=keys)
    return dict([*neighbours.values_list("pk", "walk"), *occupants.values_list("pk", "walk")])
