"""Erase what a treatment's records say of people, after their term. What proves them stays and still holds."""

from collections.abc import Sequence
from datetime import date

from django.db import transaction

from records.document.erasure import erasure
from records.document.personal import PERSONAL, without_people
from records.document.reader import read
from records.document.section_lines import without
from records.models import AuditEntry, Erasure, Firm, Photo, Seal, SignedRecord, Treatment, TreatmentEdit, User
from records.outbox.erasing import erase_notices_of
from records.permissions import demand
from records.register.terms import OF_DOCUMENT, terms_of
from records.services import log
from records.services.audit import note
from records.services.drafts import lock
from records.services.findable import forget_unused_terms, keep_terms
from records.services.holds import standing_hold
from records.services.incident_erasing import erase_incidents_of
from records.services.keys import signing_key
from records.services.photo_evidence import let_go
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest

State = Treatment.State


class NotErasableError(ValueError):
    """It is not signed, a correction is open, it is held or erased already, or its term is not over."""


@transaction.atomic
def erase(
    treatment: Treatment, kept_until: date, under: Sequence[str], on: date, by: User | None = None
) -> Erasure:
    """Take the sections with people, and their salts, out of every version; and what else holds them: the
    working document, register columns, single entries, old and new values in who did what, sealed bytes,
    photos, notices and incidents.

    `under` are the rules that set the term, `on` is the day of today; without `by` the machine's owner does
    it. The erasure is signed and entered in the log; the database lets the versions shrink because it names
    these sections. Raises PermissionDenied, NotErasableError and SigningKeyError.
    """
    if by is not None:
        demand(by, "records.erase_treatment", treatment)
    locked = lock(treatment)
    _refuse(locked, kept_until, on)
    done = _sign(locked, kept_until, under, on, by)
    _shrink(locked)
    _forget(locked)
    note(AuditEntry.Kind.ERASED, done, firm=locked.firm, by=by, reason=", ".join(under))
    return done


def _sign(
    treatment: Treatment, kept_until: date, under: Sequence[str], on: date, by: User | None
) -> Erasure:
    firm = Firm.objects.for_firm(treatment.firm).select_for_update().get()
    _key, private = signing_key(firm)
    at, whose = clock.now(), (str(firm.pk), str(treatment.pk))
    said = {"kept_until": kept_until, "under": under, "on": on, "by": by and by.name, "at": at}
    stated = erasure(*whose, **said, private=private)
    data = canonical_bytes(stated)
    row = Erasure.objects.create(
        firm=firm,
        treatment=treatment,
        sections=stated["sections"],
        kept_until=kept_until,
        under=stated["under"],
        on=on,
        record=data,
        digest=digest(data),
        by=by,
        at=at,
    )
    log.append(firm, row, private)
    return row


def _refuse(treatment: Treatment, kept_until: date, on: date) -> None:
    if treatment.state not in (State.SIGNED, State.CORRECTED, State.VOID) or on <= kept_until:
        raise NotErasableError(treatment.number)
    if hasattr(treatment, "erasure") or standing_hold(treatment):
        raise NotErasableError(treatment.number)


def _shrink(treatment: Treatment) -> None:
    versions = SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment)
    for version in versions.only("section_lines"):
        kept = without(bytes(version.section_lines), PERSONAL)
        versions.filter(pk=version.pk).update(section_lines=kept, document_digest="")
    Seal.objects.for_firm(treatment.firm).filter(treatment=treatment).update(document=b"", statement="")
    entries = AuditEntry.objects.for_firm(treatment.firm).filter(treatment=treatment)
    for entry in entries.only("changes"):
        entries.filter(pk=entry.pk).update(changes=without_people(entry.changes))


def _forget(treatment: Treatment) -> None:
    treatment.document = without_people(treatment.document)
    treatment.unread = {}
    treatment.site_name = treatment.customer_name = treatment.applicators = ""
    treatment.site_key = treatment.customer_key = ""
    treatment.save()
    keep_terms(treatment, OF_DOCUMENT, terms_of(read(treatment.document)))
    forget_unused_terms(treatment.firm)
    TreatmentEdit.objects.for_firm(treatment.firm).filter(treatment=treatment).delete()
    for photo in Photo.objects.for_firm(treatment.firm).filter(treatment=treatment):
        let_go(photo)
    erase_notices_of(treatment)
    erase_incidents_of(treatment)
