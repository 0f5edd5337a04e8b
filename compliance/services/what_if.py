"""Which records of the last two years would have come out differently with a version of the firm's rules."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from django.db.models import Exists, OuterRef, QuerySet

from compliance.check import check_document
from compliance.compare import compare
from compliance.models import StoredCheck, WhatIf
from compliance.rulebook.pack import Pack
from compliance.services.check import context_of
from compliance.services.own_rules import pack_in_use
from records.document.context import read_context
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.models import Firm, Treatment
from records.selectors import document_of
from shared import clock
from shared.wording import LANGUAGES

Json = dict[str, Any]
MOST_SHOWN = 200
STEP = 20


def go_through(run: WhatIf) -> None:
    """Take the run to its end. Nothing but the run itself is changed; of what differs MOST_SHOWN are kept."""
    now, then = pack_in_use(run.firm), run.version.pack
    found: list[Json] = []
    for done, check in enumerate(_newest_checks(run), 1):
        if len(found) < MOST_SHOWN and (differs := _difference(check, now, then)):
            found.append(differs)
        if done % STEP == 0:
            run.note(found, done)
    run.note(found, run.total)
    run.finished_at = clock.now()
    run.save(update_fields=["finished_at"])


def _difference(base: StoredCheck, now: Pack | None, then: Pack | None) -> Json | None:
    """What would come out differently of one record, by the laws of today; None if nothing would."""
    treatment, kept = base.treatment, getattr(base, "kept_context", None)
    try:
        document = read(document_of(base.signed_record))
        context = read_context(kept.plain) if kept else context_of(treatment, treatment.day, base.on)
    except DocumentFaults:
        return None
    before, after = (check_document(document, context, base.on, firm_policy=pack) for pack in (now, then))
    comparison = compare(before.stored(), after.stored())
    weighty = [difference for difference in comparison.differences if difference.weighty]
    if not weighty:
        return None
    return {
        "uuid": str(treatment.pk),
        "number": treatment.number,
        "site": treatment.site_name,
        "day": treatment.day.isoformat(),
        **{language: [difference.say(language) for difference in weighty] for language in LANGUAGES},
    }


def treatments_since(firm: Firm, since: date) -> QuerySet[Treatment]:
    """The firm's checked treatments from a day on, void ones apart, newest first."""
    checked = Exists(StoredCheck.objects.for_firm(firm).filter(treatment=OuterRef("pk")))
    rows = Treatment.objects.for_firm(firm).filter(checked, day__gte=since)
    return rows.exclude(state=Treatment.State.VOID).order_by("-day", "pk")


def _newest_checks(run: WhatIf) -> Iterator[StoredCheck]:
    keys = list(treatments_since(run.firm, run.since).values_list("pk", flat=True))
    for start in range(0, len(keys), STEP):
        some = keys[start : start + STEP]
        rows = StoredCheck.objects.for_firm(run.firm).filter(treatment__in=some)
        rows = rows.select_related("signed_record", "treatment__site", "treatment__firm", "kept_context")
        newest = {row.treatment_id: row for row in rows.order_by("at", "pk")}
        yield from (newest[key] for key in some if key in newest)
