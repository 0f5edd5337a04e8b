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
from records.outbox.counting import that_count
from records.reference import filled
from records.services.drafts import NotADraftError, edit_draft

logger = logging.getLogger(__name__)
NAMED = ("customer", "occupant")
"""All others stand in the document by digest alone: who they are is kept apart from the record."""


def write_into_document(notice: Notice) -> None:
    """Have the document state, while it may still be edited, what was told to this person and counts, once in
    each language, and nothing that does not count; by whoever made the notice."""
    treatment = Treatment.objects.for_firm(notice.firm).select_related("site").get(pk=notice.treatment_id)
    if not treatment.is_open:
        return
    rows = Notice.objects.for_firm(notice.firm).filter(treatment=treatment, to=notice.to, row=notice.row)
    values = dict(_all_changes(treatment, list(rows)))
    if not values:
        return
    edits = [Edit(str(uuid4()), where, value, treatment.revision) for where, value in values.items()]
    try:
        edit_draft(treatment, edits, notice.made_by)
    except (PermissionDenied, NotADraftError, DocumentFaults) as error:
        logger.warning("Notice %s stands in no document: %s", notice.pk, error)


def means_of(notice: Notice) -> str:
    """How it was told: that a message was left on the phone is no call."""
    return "voicemail" if notice.state == Notice.State.VOICEMAIL else notice.means


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
        means=means_of(notice),
        sent_at=local(notice.sent_at),
        delivered_at=local(notice.delivered_at),
        planned_at=local(notice.planned_at),
        alternate_dates=notice.alternate_dates or None,
        notice=None if notice.to in NAMED else str(notice.pk),
        digest=None if notice.to in NAMED else notice.digest,
    )
    return [filled(id=id_, language=language) | common for language, id_ in entry_ids(notice).items()]


def _all_changes(treatment: Treatment, notices: list[Notice]) -> Iterator[tuple[str, Any]]:
    stated = {each.get("id"): each for each in treatment.document.get("notices", [])}
    counting = {one.pk for one in that_count(notices)}
    for one in notices:
        if one.pk in counting:
            entries = entries_of(one, treatment)
            yield from (change for entry in entries for change in _changes(entry, stated.get(entry["id"])))
        else:
            ids = (id_ for id_ in entry_ids(one).values() if id_ in stated)
            yield from ((f"notices[{id_}]", None) for id_ in ids)


def _changes(entry: dict[str, Any], stated: dict[str, Any] | None) -> Iterator[tuple[str, Any]]:
    """The entry by its path, or of one that stands already what is new."""
    path = f"notices[{entry['id']}]"
    if stated is None:
        yield path, entry
    else:
        yield from ((f"{path}.{name}", value) for name, value in entry.items() if stated.get(name) != value)
