"""What a treatment's document says of a notice that went out."""

import logging
from typing import Any
from uuid import uuid4
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
    """Write the notice into the document while it may still be edited; by whoever made the notice."""
    treatment = Treatment.objects.for_firm(notice.firm).select_related("site").get(pk=notice.treatment_id)
    if not treatment.is_open:
        return
    entry = entry_of(notice, treatment)
    path = f"notices[{entry['id']}]"
    found = [each for each in treatment.document.get("notices", []) if each.get("id") == entry["id"]]
    values = {path: entry}
    if found:
        values = {f"{path}.{name}": value for name, value in entry.items() if found[0].get(name) != value}
    edits = [Edit(str(uuid4()), where, value, treatment.revision) for where, value in values.items()]
    try:
        edit_draft(treatment, edits, notice.made_by)
    except (PermissionDenied, NotADraftError, DocumentFaults) as error:
        logger.warning("Notice %s stands in no document: %s", notice.pk, error)


def entry_of(notice: Notice, treatment: Treatment) -> dict[str, Any]:
    zone = ZoneInfo(treatment.site.time_zone or notice.firm.time_zone)

    def local(moment: Any) -> str | None:
        return moment.astimezone(zone).isoformat(timespec="seconds") if moment else None

    return filled(
        id=str(notice.pk),
        to=notice.to,
        name=notice.name if notice.to in NAMED else None,
        means=notice.means,
        language=notice.languages[0] if notice.languages else None,
        sent_at=local(notice.sent_at),
        delivered_at=local(notice.delivered_at),
        planned_at=local(notice.planned_at),
        alternate_dates=notice.alternate_dates or None,
        notice=None if notice.to in NAMED else str(notice.pk),
        digest=None if notice.to in NAMED else notice.digest,
    )
