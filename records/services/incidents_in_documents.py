"""What the document of a treatment says of an incident, while it is open."""

import logging
from collections.abc import Collection, Iterator
from datetime import datetime
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from django.core.exceptions import PermissionDenied

from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.models import Incident, IncidentEntry, Treatment, User
from records.services.drafts import NotADraftError, edit_draft

logger = logging.getLogger(__name__)


TOLD = ("reported_to", "reported_at")
STATED_AS = {"happened_at": "at"}


def write_into_document(incident: Incident, by: User, names: Collection[str] = ()) -> None:
    """Have the document state it, or of what stands there already these members, where its treatment's document
    may still be edited; what the crew's form says of the others stays."""
    if incident.treatment_id is None:
        return
    treatment = Treatment.objects.for_firm(incident.firm).get(pk=incident.treatment_id)
    edits = list(_edits(incident, treatment, names)) if treatment.is_open else []
    if not edits:
        return
    try:
        edit_draft(treatment, edits, by)
    except (PermissionDenied, NotADraftError, DocumentFaults) as error:
        logger.warning("Incident %s stands in no document: %s", incident.pk, error)
        return
    if not incident.item:
        incident.item = str(incident.pk)
        incident.save(update_fields=["item"])


def _edits(incident: Incident, treatment: Treatment, names: Collection[str]) -> Iterator[Edit]:
    item = incident.item or str(incident.pk)
    wanted = [STATED_AS.get(name, name) for name in names]
    members = _members(incident)
    said = {name: value for name, value in members.items() if name in wanted}
    if not incident.item:
        known = {name: value for name, value in members.items() if value is not None}
        yield Edit(str(uuid4()), f"incidents[{item}]", {"id": item, **known}, treatment.revision)
    elif any(each.get("id") == item for each in treatment.document.get("incidents") or []):
        for name, value in said.items():
            yield Edit(str(uuid4()), f"incidents[{item}].{name}", value, treatment.revision)


def _members(incident: Incident) -> dict[str, Any]:
    zone = ZoneInfo(incident.time_zone)
    told = incident.entries.filter(kind=IncidentEntry.Kind.TOLD).order_by("at").first()
    return {
        "kind": incident.kind,
        "at": _local(incident.happened_at, zone),
        "description": incident.description or None,
        "amount": incident.amount.as_json() if incident.amount else None,
        "action": incident.action or None,
        "reported_to": told.to or None if told else None,
        "reported_at": _local(told.at, zone) if told else None,
    }


def _local(moment: datetime, zone: ZoneInfo) -> str:
    return moment.astimezone(zone).isoformat(timespec="seconds")
