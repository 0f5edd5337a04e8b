"""A record that was sealed on a device without a signal: taken in, verified, and signed as it was sealed.

What was typed came in before it, entry by entry. Only where the draft is by then the very document that was
sealed is it signed; else the sealed document is kept, with the reason, and the draft waits for a person.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from compliance.services.sealed_wordings import WORDINGS
from compliance.services.signing import LONGEST_REASON, Prepared, prepare, sign_prepared
from records.document.canonical import as_json, canonical
from records.document.device_seal import read_device_key, seal_holds, statement
from records.document.differing import differing
from records.document.member_labels import member_label
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import DeviceKey, Seal, SignedRecord, Treatment, User
from records.permissions import demand
from records.services.drafts import lock
from records.services.sheets import PARTS, were_issued
from records.services.signing import UnreadEntriesError
from records.services.to_sign import CLOCKS_DIFFER_BY, ImplausibleTimeError, Signer
from shared import clock
from shared.digests import digest
from shared.times import read_time
from shared.wording import LANGUAGES, fill

Json = dict[str, Any]
MOST_ANSWERS = 200


class BadSealError(ValueError):
    """The seal does not hold: another key, another document, or another hand."""


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

    Raises PermissionDenied, BadSealError, and DocumentFaults for a document that can't be read.
    """
    demand(user, "records.sign_treatment", treatment)
    document = read(sent.document)
    if canonical(document) != sent.document.encode():
        raise BadSealError("not in canonical form")
    key = _verified(treatment, user, sent)
    return _taken_in(treatment, user, sent, document, key)


def _verified(treatment: Treatment, user: User, sent: Sent) -> DeviceKey:
    key = DeviceKey.objects.for_firm(treatment.firm).filter(pk=sent.key, by=user).first()
    if key is None:
        raise BadSealError("no key of this person")
    signed = statement(
        treatment=str(treatment.pk),
        document=digest(sent.document.encode()),
        answers=sent.answers,
        by=user.name,
        claimed_at=sent.claimed_at,
        device_at=sent.device_at,
    )
    if not seal_holds(read_device_key(bytes(key.public)), signed, sent.value):
        raise BadSealError("the signature is none of this key over this statement")
    return key


@transaction.atomic
def _taken_in(
    treatment: Treatment, user: User, sent: Sent, document: TreatmentDocument, key: DeviceKey
) -> Seal:
    locked = lock(treatment)
    own = digest(sent.document.encode())
    if first := Seal.objects.for_firm(locked.firm).filter(key=key, treatment=locked, digest=own).first():
        return first
    claimed_at, sent_at, now = read_time(sent.claimed_at), read_time(sent.sent_at), clock.now()
    signer = Signer(user, claimed_at, read_time(sent.device_at), _clock_ahead(sent_at, now))
    record, why_not, marks = _signed(locked, sent, document, key, signer)
    return Seal.objects.create(
        firm=locked.firm,
        treatment=locked,
        key=key,
        by=user,
        document=sent.document.encode(),
        digest=own,
        value=sent.value,
        answers=[dict(answer) for answer in sent.answers],
        claimed_at=claimed_at,
        device_at=signer.device_at,
        sent_at=sent_at,
        received_at=now,
        signed_record=record,
        why_not=why_not,
        marks=marks,
    )


def _clock_ahead(sent_at: datetime, now: datetime) -> timedelta:
    ahead = sent_at - now
    return ahead if abs(ahead) > CLOCKS_DIFFER_BY else timedelta()


Came = tuple[SignedRecord | None, list[Json], list[Json]]


def _signed(
    treatment: Treatment, sent: Sent, document: TreatmentDocument, key: DeviceKey, signer: Signer
) -> Came:
    """The signed record, or why there is none; and what a manager should look at."""
    if treatment.state != Treatment.State.DRAFT:
        return None, [_said("not_a_draft")], []
    sealed = as_json(document)
    parts = {name: sealed[name] for name in PARTS if name in sealed}
    issued = were_issued(treatment, sealed, sent.proof)
    prepared = prepare(treatment, signer, parts if issued else None)
    if paths := differing(sealed, as_json(prepared.document)):
        return None, [_differs(path) for path in paths], []
    revoked = getattr(key, "revocation", None)
    if revoked and revoked.at <= signer.claimed_at - signer.clock_ahead:
        return None, [_said("revoked_before")], []
    answers, unanswered = _answers(prepared, sent.answers)
    marks = [_said("revoked_since")] if revoked else []
    marks += [_said("unanswered", count=str(unanswered))] if unanswered else []
    if signer.clock_ahead:
        minutes = round(abs(signer.clock_ahead) / timedelta(minutes=1))
        side = "clock_ahead" if signer.clock_ahead > timedelta() else "clock_behind"
        marks.append(_said(side, minutes=str(minutes)))
    try:
        with transaction.atomic():
            record = sign_prepared(treatment, prepared, answers, signer, treatment.revision)
    except UnreadEntriesError:
        return None, [_said("unread")], []
    except ImplausibleTimeError:
        return None, [_said("implausible_time")], []
    return record, [], marks


def _answers(prepared: Prepared, given: Sequence[Mapping[str, Any]]) -> tuple[list[Json], int]:
    """The reasons that answer what is open, and how many required findings have none: the device could not
    tell all that the rules ask, and a record is not kept from being made for that."""
    reasons = {
        (answer["rule"], tuple(answer["about"])): str(answer["reason"]).strip()[:LONGEST_REASON]
        for answer in given
    }
    answers = []
    for finding in prepared.open_findings:
        if reason := reasons.get((finding["rule"], tuple(finding["about"]))):
            answers.append({"rule": finding["rule"], "about": list(finding["about"]), "reason": reason})
    return answers, len(prepared.open_findings) - len(answers)


def _differs(path: str) -> Json:
    """Both the member's name and where it stands: several items have members of one name."""
    return {
        language: fill(WORDINGS["differs"], {"member": f"{member_label(path, language)} ({path})"}, language)
        for language in LANGUAGES
    }


def _said(wording_id: str, **blanks: str) -> Json:
    return {language: fill(WORDINGS[wording_id], blanks, language) for language in LANGUAGES}
