"""The file of a bundle goes; what went in, its digest and to whom it went stay."""

from uuid import UUID, uuid4

from compliance.models import Handing
from compliance.request_bundle.folder import remove
from records.models import Firm

GONE = Handing.State.GONE


def let_go(handing: Handing) -> None:
    """The file goes, and a turn that is under way ends."""
    rows = Handing.objects.for_firm(handing.firm).filter(pk=handing.pk)
    rows.update(state=GONE, run=uuid4())
    remove(handing)


def let_go_of_all_with(firm: Firm, treatment: UUID) -> None:
    """What was erased must be in no file that can still be fetched."""
    rows = Handing.objects.for_firm(firm).exclude(state=GONE)
    for handing in rows.iterator():
        if str(treatment) in handing.treatments:
            let_go(handing)
