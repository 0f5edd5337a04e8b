"""Begin an incident, write down what happened, what was done and who was told, and close it."""

from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import get_language

from records.document.words import label
from records.models import AuditEntry, Firm, Incident, IncidentEntry, SignedFollowUp, Treatment, User
from records.permissions import demand
from records.services.audit import change, note
from records.services.incidents_in_documents import TOLD, write_into_document
from shared import clock

LONGEST_DETAIL = 2000
State, Entry = Incident.State, IncidentEntry.Kind
APART = ("place", "description", "affected", "names", "action", "to", "text")
"""Free words, which may name people: that they changed is noted, and not from what into what."""


class ClosedError(ValueError):
    """The incident is closed: whoever has more to say opens it again."""


@transaction.atomic
def begin(
    firm: Firm, by: User, key: UUID, kind: str, treatment: Treatment | None = None, **known: Any
) -> Incident:
    """Keep that something went wrong, now unless `known` says when; the same key sent twice begins one.

    While the treatment's document is open it stands there, too. Raises PermissionDenied.
    """
    demand(by, "records.tell_incident", firm)
    if found := Incident.objects.for_firm(firm).filter(pk=key).first():
        return found
    now = clock.now()
    given = {"happened_at": now, "known_at": now, **known}
    made = Incident(firm=firm, uuid=key, kind=kind, treatment=treatment, begun_by=by, **given)
    made.save(force_insert=True)
    note(AuditEntry.Kind.CREATED, made, firm=firm, by=by, changes=[change("kind", None, kind)])
    if not made.item:
        write_into_document(made, by)
    return made


@transaction.atomic
def write_facts(incident: Incident, by: User, given: dict[str, Any]) -> None:
    """What is known of it by now. Raises PermissionDenied, and ClosedError."""
    _refuse_closed(incident, by)
    fields = {field.name: field for field in Incident._meta.fields}
    changes = []
    for name, value in given.items():
        old = fields[name].value_to_string(incident)
        setattr(incident, name, value)
        new = fields[name].value_to_string(incident)
        if old != new:
            changes.append(change(name, *((None, None) if name in APART else (old, new))))
    if not changes:
        return
    incident.save(update_fields=list(given))
    note(AuditEntry.Kind.CHANGED, incident, firm=incident.firm, by=by, changes=changes)
    write_into_document(incident, by, [each["member"] for each in changes])


@transaction.atomic
def add_entry(incident: Incident, by: User, kind: str, at: datetime, **said: Any) -> IncidentEntry:
    """One thing that was done about it. Raises PermissionDenied, and ClosedError."""
    _refuse_closed(incident, by)
    entry = _entered(incident, by, kind, at, **said)
    if kind == Entry.TOLD:
        write_into_document(incident, by, TOLD)
    return entry


@transaction.atomic
def reported(incident: Incident) -> None:
    """Whoever was to be told of it has been."""
    _turn(incident, State.REPORTED)


@transaction.atomic
def close(incident: Incident, by: User, why: str) -> None:
    """Nothing more is to be done about it. Raises PermissionDenied, and ClosedError."""
    demand(by, "records.close_incident", incident)
    _refuse_closed(incident, by)
    _entered(incident, by, Entry.CLOSED, clock.now(), text=why)
    _turn(incident, State.CLOSED)


@transaction.atomic
def open_again(incident: Incident, by: User, why: str) -> None:
    """There is more to it. Raises PermissionDenied."""
    demand(by, "records.close_incident", incident)
    if incident.is_closed:
        _entered(incident, by, Entry.OPENED, clock.now(), text=why)
        _turn(incident, State.OPEN)


@transaction.atomic
def signed_into(incident: Incident, follow_up: SignedFollowUp) -> None:
    """The record of its treatment has it as a follow-up."""
    incident.follow_up = follow_up
    incident.save(update_fields=["follow_up"])


def told_in_words(incident: Incident) -> str:
    """What a follow-up says of it, without the names of those affected; whoever signs may change it."""
    kind = label("incident_kind", incident.kind, (get_language() or "en")[:2])
    amount = incident.amount.say((get_language() or "en")[:2]) if incident.amount else ""
    parts = (incident.description, amount, incident.action)
    told = " ".join(part if part.endswith(".") else f"{part}." for part in parts if part)
    return f"{kind}: {told}"[:LONGEST_DETAIL] if told else kind


def _refuse_closed(incident: Incident, by: User) -> None:
    demand(by, "records.tell_incident", incident)
    if incident.is_closed:
        raise ClosedError(str(incident.pk))


def _entered(incident: Incident, by: User, kind: str, at: datetime, **said: Any) -> IncidentEntry:
    entry = IncidentEntry.objects.create(firm=incident.firm, incident=incident, by=by, kind=kind, at=at, **said)
    shown = {"kind": kind, "at": at.isoformat(), **said}
    changes = [change(name, None, None if name in APART else value) for name, value in shown.items() if value]
    note(AuditEntry.Kind.CHANGED, incident, firm=incident.firm, by=by, changes=changes)
    return entry


def _turn(incident: Incident, state: str) -> None:
    if incident.state != state:
        incident.state = state
        incident.save(update_fields=["state"])
