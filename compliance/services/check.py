"""Check a treatment's document against the packs in the context that the firm's records give."""

from datetime import date
from typing import Any

from django.db.models import Q

from compliance.check import Check, check_document
from compliance.firm_pack import firm_pack
from compliance.models import Determination, FirmPolicy, StoredCheck
from compliance.rulebook.pack import Pack
from records.document.context import read_context
from records.document.days import treatment_day
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import SignedRecord, Treatment
from records.selectors import document_of, earlier_documents, follow_ups_of, signed_versions
from records.services.projection import set_outcome
from records.stock import stock_before
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.times import local_day

Json = dict[str, Any]


def check_treatment(treatment: Treatment, on: date | None = None) -> Check:
    """What the rules say of the working document, as it stands on that day (today if None)."""
    return check_in_context(treatment, read(treatment.document), on)


def check_in_context(treatment: Treatment, document: TreatmentDocument, on: date | None = None) -> Check:
    """What the rules say of a document of this treatment. Neighbours, registers and permits are not recorded
    yet: they are unknown to the rules, and duties that hang on them can't be told."""
    on = on or today(treatment)
    day = treatment_day(document) or treatment.day
    context = read_context(
        {
            "on": on.isoformat(),
            "earlier": earlier_documents(treatment, day),
            "follow_ups": [each.follow_up for each in follow_ups_of(treatment)],
            "received_at": _received_at(treatment),
            "stock": stock_before(treatment),
            "determinations": _determinations(treatment, day),
        }
    )
    return check_document(document, context, on, firm_policy=_policy(treatment, day))


def recheck(record: SignedRecord) -> StoredCheck:
    """Check a signed version again, with all follow-ups that came after it, and store what was found."""
    check = check_in_context(record.treatment, read(document_of(record)))
    return store(record, check, StoredCheck.Occasion.FOLLOW_UP)


def store(record: SignedRecord, check: Check, occasion: str) -> StoredCheck:
    """Keep the check of a signed version; the register shows its outcome."""
    stored = check.stored()
    set_outcome(record.treatment, stored["outcome"])
    return StoredCheck.objects.create(
        firm=record.firm,
        treatment=record.treatment,
        signed_record=record,
        occasion=occasion,
        on=stored["on"],
        outcome=stored["outcome"],
        check_json=stored,
        digest=digest_of_check(stored),
    )


def digest_of_check(stored: Json) -> str:
    """The digest of a `stored-check/1`, as the signed record names it."""
    return digest(canonical_bytes(stored))


def today(treatment: Treatment) -> date:
    """Today at the treatment's site."""
    return local_day(clock.now(), treatment.site.time_zone or treatment.firm.time_zone)


def _received_at(treatment: Treatment) -> str:
    first = signed_versions(treatment).last()
    return (first.received_at if first else clock.now()).isoformat(timespec="seconds")


def _policy(treatment: Treatment, day: date) -> Pack | None:
    policies = FirmPolicy.objects.for_firm(treatment.firm).filter(Q(until=None) | Q(until__gt=day))
    return firm_pack([row.as_policy() for row in policies.filter(in_force_from__lte=day)])


def _determinations(treatment: Treatment, day: date) -> list[Json]:
    rows = Determination.objects.for_firm(treatment.firm).filter(Q(valid_to=None) | Q(valid_to__gte=day))
    return [
        {
            "question": row.question,
            "answer": row.answer,
            "by": row.by,
            "advice": row.advice or None,
            "valid_from": row.valid_from.isoformat(),
            "valid_to": row.valid_to and row.valid_to.isoformat(),
        }
        for row in rows.filter(valid_from__lte=day)
    ]
