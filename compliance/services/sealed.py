"""A record that was sealed on a device without a signal: taken in, verified, and signed as it was sealed.

What was typed came in before it, entry by entry. Only where the draft is by then the very document that was
sealed is it signed; else the sealed document is kept, with the reason, and the draft waits for a person.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any

from django.db import transaction

from compliance.services.sealed_judging import Came, Sealed, refused, signed
from records.document.canonical import canonical
from records.document.device_seal import read_device_key, seal_holds, statement
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.time_kinds import YEARS
from records.models import AuditEntry, DeviceKey, Seal, Treatment, User
from records.permissions import demand
from records.services.audit import change, note
from records.services.drafts import lock
from shared.digests import digest
from shared.times import read_time

MOST_ANSWERS = 200
MOST_SEALS = 20
"""Of one person and treatment that were not taken as signed."""


class BadSealError(ValueError):
    """The seal does not hold: another key, another document, or another hand."""


class YearError(ValueError):
    """A clock of the device is of no year that a document takes."""


class TooManySealsError(ValueError):
    """So many of this person's came in for the treatment and were not taken that no more are kept."""


@dataclass(frozen=True)
class Sent:
    """What a device sends: the canonical text of the document, the reasons given, the seal and the clocks."""

    key: str
    document: str
    answers: Sequence[Mapping[str, Any]]
    claimed_at: str
    device_at: str
    sent_at: str
    value: str
    proof: str


def receive(treatment: Treatment, user: User, sent: Sent) -> Seal:
    """Keep the seal, and sign the treatment with it where the draft is what was sealed. Sent twice it is one.

    A document that contradicts itself is kept, too, with what is wrong with it. Raises PermissionDenied,
    BadSealError, TooManySealsError and YearError.
    """
    demand(user, "records.sign_treatment", treatment)
    key, stated = _verified(treatment, user, sent)
    take_in = partial(_taken_in, treatment, user, sent, key, stated)
    try:
        document = read(sent.document)
    except DocumentFaults as error:
        came = refused(error)
        return take_in(lambda locked, seal: came)
    if canonical(document) != sent.document.encode():
        raise BadSealError("not in canonical form")
    return take_in(lambda locked, seal: signed(locked, Sealed.of(seal, document)))


def _verified(treatment: Treatment, user: User, sent: Sent) -> tuple[DeviceKey, bytes]:
    """The key, and the statement that it signed. Raises BadSealError."""
    key = DeviceKey.objects.for_firm(treatment.firm).filter(pk=sent.key, by=user).first()
    if key is None:
        raise BadSealError("no key of this person")
    stated = statement(
        treatment=str(treatment.pk),
        document=digest(sent.document.encode()),
        answers=sent.answers,
        by=user.name,
        claimed_at=sent.claimed_at,
        device_at=sent.device_at,
    )
    if not seal_holds(read_device_key(bytes(key.public)), stated, sent.value):
        raise BadSealError("the signature is none of this key over this statement")
    return key, stated


@transaction.atomic
def _taken_in(
    treatment: Treatment,
    user: User,
    sent: Sent,
    key: DeviceKey,
    stated: bytes,
    judged: Callable[[Treatment, Seal], Came],
) -> Seal:
    locked = lock(treatment)
    own = digest(sent.document.encode())
    seals = Seal.objects.for_firm(locked.firm).filter(treatment=locked)
    if first := seals.filter(key=key, digest=own).first():
        return first
    if seals.filter(by=user, signed_record=None, later_fit=None).count() >= MOST_SEALS:
        raise TooManySealsError(locked.number)
    seal = _row(sent, stated, firm=locked.firm, treatment=locked, key=key, by=user, digest=own)
    came = judged(locked, seal)
    seal.signed_record, seal.why_not, seal.marks = came.record, came.why_not, came.marks
    seal.asks = bool(came.marks or not came.record)
    seal.save()
    note(AuditEntry.Kind.SEALED, seal, firm=locked.firm, by=user, changes=[change("digest", None, own)])
    return seal


def _row(sent: Sent, stated: bytes, **known: Any) -> Seal:
    return Seal(
        document=sent.document.encode(),
        value=sent.value,
        statement=stated.decode(),
        answers=[dict(answer) for answer in sent.answers],
        claimed_at=_moment(sent.claimed_at),
        device_at=_moment(sent.device_at),
        sent_at=_moment(sent.sent_at),
        proof=sent.proof,
        **known,
    )


def _moment(text: str) -> datetime:
    """A clock's moment, of the years that a document takes. Raises TimeError, YearError."""
    moment = read_time(text)
    if moment.year not in YEARS:
        raise YearError(text)
    return moment
