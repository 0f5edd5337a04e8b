"""Check a treatment's document against the packs in the context that the firm's records give."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from django.db import transaction

from compliance.check import Check, check_document
from compliance.models import CheckContext, StoredCheck
from compliance.services.determinations import determinations_on
from compliance.services.keeping import note_term
from compliance.services.notices_sent import sent_notices
from compliance.services.own_rules import pack_in_use
from compliance.services.pack_keeping import keep_used
from compliance.stored_form import compressed, squeezed
from compliance.stored_register import open_rules, wind_limit
from records.document.canonical import as_json
from records.document.context import Context, read_context
from records.document.days import treatment_day
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import SignedRecord, Treatment
from records.people_near import neighbours_of, registered_near
from records.selectors import document_of, earlier_documents, follow_ups_of, signed_versions
from records.services.projection import set_found, set_outcome
from records.stock import stock_before
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.times import local_day

Json = dict[str, Any]


@dataclass(frozen=True)
class Examined:
    """A check with the context that it was made in."""

    check: Check
    context: Context

    @cached_property
    def stored(self) -> Json:
        """The check as `stored-check/1`."""
        return self.check.stored()

    @cached_property
    def canonical(self) -> bytes:
        """The canonical bytes of `stored`."""
        return canonical_bytes(self.stored)

    @cached_property
    def digest(self) -> str:
        """The digest of `stored`, as the signed record names it."""
        return digest(self.canonical)


def check_treatment(treatment: Treatment, on: date | None = None) -> Check:
    """What the rules say of the working document, as it stands on that day (today if None)."""
    return examine(treatment, read(treatment.document), on).check


def examine(treatment: Treatment, document: TreatmentDocument, on: date | None = None) -> Examined:
    """What the rules say of a document of this treatment, by the packs and the firm's own rules of now."""
    on = on or today(treatment)
    day = treatment_day(document) or treatment.day
    context = context_of(treatment, day, on)
    policy = pack_in_use(treatment.firm)
    return Examined(check_document(document, context, on, firm_policy=policy), context)


def context_of(treatment: Treatment, day: date, on: date) -> Context:
    """What the firm's records know around a document of that day. Permits are not recorded yet, and neighbours
    and registers where nobody listed them: they are unknown, and what hangs on them can't be told."""
    near = {"neighbours": neighbours_of(treatment.site), "registered_persons": registered_near(treatment.site)}
    return read_context(
        {
            **{name: people for name, people in near.items() if people is not None},
            **({"sent_notices": sent} if (sent := sent_notices(treatment)) else {}),
            "on": on.isoformat(),
            "earlier": earlier_documents(treatment, day),
            "follow_ups": [each.follow_up for each in follow_ups_of(treatment)],
            "received_at": _received_at(treatment),
            "stock": stock_before(treatment),
            "determinations": determinations_on(treatment.firm, day),
        }
    )


def recheck(record: SignedRecord) -> StoredCheck:
    """Check a signed version again, with all follow-ups that came after it, and store what was found."""
    examined = examine(record.treatment, read(document_of(record)))
    return store(record, examined, StoredCheck.Occasion.FOLLOW_UP)


@transaction.atomic
def store(record: SignedRecord, examined: Examined, occasion: str) -> StoredCheck:
    """Keep the check of a signed version with its packs and its context; the register shows its outcome."""
    stored = examined.stored
    set_outcome(record.treatment, stored["outcome"])
    set_found(record.treatment, *open_rules(stored), wind_limit(stored))
    keep_used(record.firm, examined.check.packs)
    row = StoredCheck.objects.create(
        firm=record.firm,
        treatment=record.treatment,
        signed_record=record,
        occasion=occasion,
        on=stored["on"],
        outcome=stored["outcome"],
        body=squeezed(examined.canonical),
        digest=examined.digest,
    )
    CheckContext.objects.create(check_made=row, body=compressed(as_json(examined.context)))
    note_term(record.treatment)
    return row


def today(treatment: Treatment) -> date:
    """Today at the treatment's site."""
    return local_day(clock.now(), treatment.site.time_zone or treatment.firm.time_zone)


def _received_at(treatment: Treatment) -> str:
    first = signed_versions(treatment).last()
    return (first.received_at if first else clock.now()).isoformat(timespec="seconds")
