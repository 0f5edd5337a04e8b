"""What a treatment's document says of a notice that went out."""

import logging
from collections.abc import Iterator
from typing import Any
from uuid import uuid4, uuid5
from zoneinfo import ZoneInfo

from django.core.exceptions import PermissionDenied

from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.models import Notice, Treatment
from records.reference import filled
from records.services.drafts import NotADraftError, edit_draft

logger = logging.getLogger(__name__)
NAMED = ("customer", "occupant")
"""All others stand in the document by digest alone: who they are is kept apart from the record."""


def write_into_document(notice: Notice) -> None:
    """Write the notice into the document while it may still be edited, once in each of its languages; by
    whoever made the notice."""
    treatment = Treatment.objects.for_firm(notice.firm).select_related("site").get(pk=notice.treatment_id)
    if not treatment.is_open:
        return
    stated = {each.get("id"): each for each in treatment.document.get("notices", [])}
    values = dict(
        change for entry in entries_of(notice, treatment) for change in _changes(entry, stated.get(entry["id"]))
    )
    edits = [Edit(str(uuid4()), where, value, treatment.revision) for where, value in values.items()]
    try:
        edit_draft(treatment, edits, notice.made_by)
    except (PermissionDenied, NotADraftError, DocumentFaults) as error:
        logger.warning("Notice %s stands in no document: %s", notice.pk, error)


def entry_ids(notice: Notice) -> dict[str | None, str]:
    """The ids of its entries by language, the same for good; the first is the notice's own."""
    first, *others = notice.languages or [None]
    return {first: str(notice.pk)} | {one: str(uuid5(notice.pk, one)) for one in others}


def entries_of(notice: Notice, treatment: Treatment) -> list[dict[str, Any]]:
    """What the document says of it: an entry has one language, and a rule may ask for each."""
    zone = ZoneInfo(treatment.site.time_zone or notice.firm.time_zone)

    def local(moment: Any) -> str | None:
        return moment.astimezone(zone).isoformat(timespec="seconds") if moment else None

    common = filled(
        to=notice.to,
        name=notice.name if notice.to in NAMED else None,
        means=notice.means,
        sent_at=local(notice.sent_at),
        delivered_at=local(notice.delivered_at),
        planned_at=local(notice.planned_at),
        alternate_dates=notice.alternate_dates or None,
        notice=None if notice.to in NAMED else str(notice.pk),
        digest=None if notice.to in NAMED else notice.digest,
    )
    return [filled(id=id_, language=language) | common for language, id_ in entry_ids(notice).items()]


def _changes(entry: dict[str, Any], stated: dict[str, Any] | None) -> Iterator[tuple[str, Any]]:
    """The entry by its path, or of one that stands already what is new."""
    path = f"notices[{entry['id']}]"
    if stated is None:
        yield path, entry
    else:
        yield from ((f"{path}.{name}", value) for name, value in entry.items() if stated.get(name) != value)
