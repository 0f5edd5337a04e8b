"""Sign a treatment with its check: the password, the findings, an answer to each open required one."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from compliance.models import StoredCheck
from compliance.services.check import Examined, examine, store
from compliance.services.passkey import confirm_passkey
from compliance.services.password import confirm_password
from records.document.canonical import as_json
from records.document.types import TreatmentDocument
from records.models import SignedRecord, Treatment, User
from records.services import signing
from records.services.drafts import NotADraftError, lock
from records.services.signing import Attachments
from records.services.to_sign import Signer, document_to_sign, judge_claim
from shared.canonical import canonical_bytes
from shared.digests import digest

Json = dict[str, Any]
LONGEST_REASON = 2000


class UnansweredError(ValueError):
    """Required findings are open and have no reason; `findings` are those, as a stored check holds them."""

    def __init__(self, findings: Sequence[Json]) -> None:
        super().__init__(", ".join(finding["rule"] for finding in findings))
        self.findings = list(findings)


class OtherThanShownError(ValueError):
    """Reference data changed meanwhile: another document would be signed than the signer was shown."""


class ReasonTooLongError(ValueError):
    """A reason is longer than LONGEST_REASON."""


@dataclass(frozen=True)
class Prepared:
    """What would be signed now: the document, its check, and the findings that need an answer."""

    document: TreatmentDocument
    examined: Examined

    @property
    def shown(self) -> str:
        """The digest of what the signer is shown: the document without the moment, which signing sets."""
        document = as_json(self.document)
        moments = {"record": "corrected_at", "timing": "recorded_at"}
        for section, moment in moments.items():
            document[section] = {name: of for name, of in document[section].items() if name != moment}
        return digest(canonical_bytes(document))

    @property
    def open_findings(self) -> list[Json]:
        """The required findings that are not met or can't be told, as a stored check holds them."""
        findings = self.examined.stored["findings"]
        return [
            finding
            for finding in findings
            if finding["level"] == "required" and finding["outcome"] in ("not_met", "cant_tell")
        ]


def prepare(treatment: Treatment, signer: Signer, parts: Mapping[str, Json] | None = None) -> Prepared:
    """What the signer is shown before signing; see `document_to_sign`. Raises DocumentFaults."""
    document = document_to_sign(treatment, signer, parts)
    return Prepared(document, examine(treatment, document))


def sign_treatment(
    treatment: Treatment,
    user: User,
    password: str,
    answers: Iterable[Mapping[str, Any]] = (),
    *,
    revision: int | None = None,
    shown: str | None = None,
    claimed_at: datetime | None = None,
    device_at: datetime | None = None,
) -> SignedRecord:
    """Check and sign the draft at `revision` (that of `treatment` if None), all or nothing.

    `shown` is the digest of what was `prepare`d for the signer; what a person signs has one.
    `answers` are `{rule, about, reason}`, one for each open required finding. Sent twice it signs once.
    Raises WrongPasswordError, TooManyTriesError, OtherThanShownError, UnansweredError, ReasonTooLongError and
    what `records` raises on signing.
    """
    confirm_password(user, password)
    return sign_confirmed(
        treatment, user, answers, revision=revision, shown=shown, claimed_at=claimed_at, device_at=device_at
    )


def sign_with_passkey(
    treatment: Treatment,
    user: User,
    credential: str,
    answers: Iterable[Mapping[str, Any]] = (),
    *,
    revision: int | None = None,
    shown: str | None = None,
) -> SignedRecord:
    """Sign as `sign_treatment` does, confirmed by what a passkey answered. Raises WrongPasskeyError, too."""
    confirm_passkey(user, credential)
    return sign_confirmed(treatment, user, answers, revision=revision, shown=shown)


@transaction.atomic
def sign_confirmed(
    treatment: Treatment,
    user: User,
    answers: Iterable[Mapping[str, Any]] = (),
    *,
    revision: int | None = None,
    shown: str | None = None,
    claimed_at: datetime | None = None,
    device_at: datetime | None = None,
) -> SignedRecord:
    """Sign as `sign_treatment` does, for a signer who is known to have confirmed it."""
    revision = treatment.revision if revision is None else revision
    signer = Signer.who_states(user, claimed_at, device_at)
    locked = lock(treatment)
    if first := signing.signed_already(locked, user, revision):
        return first
    if not locked.is_open:
        raise NotADraftError(locked.number)
    prepared = prepare(locked, signer)
    if shown not in (None, prepared.shown) and locked.revision == revision:
        raise OtherThanShownError(locked.number)
    judge_claim(locked, prepared.document, signer.claimed_at)
    return sign_prepared(locked, prepared, _answers_to(prepared.open_findings, answers), signer, revision)


def sign_prepared(
    treatment: Treatment, prepared: Prepared, answers: Sequence[Json], signer: Signer, revision: int
) -> SignedRecord:
    """Sign what was prepared and store its check. Raises what `records` raises on signing."""
    examined = prepared.examined
    attached = {"digest": examined.digest, "context_digest": examined.stored["context"]}
    record = signing.sign(treatment, prepared.document, Attachments(answers, attached), signer, revision)
    store(record, examined, StoredCheck.Occasion.SIGNING)
    return record


def _answers_to(findings: Sequence[Json], answers: Iterable[Mapping[str, Any]]) -> list[Json]:
    reasons = {
        (answer["rule"], tuple(answer["about"])): str(answer["reason"]).strip()
        for answer in answers
    }
    keyed = [(finding, reasons.get((finding["rule"], tuple(finding["about"])))) for finding in findings]
    if any(len(reason or "") > LONGEST_REASON for _finding, reason in keyed):
        raise ReasonTooLongError
    if unanswered := [finding for finding, reason in keyed if not reason]:
        raise UnansweredError(unanswered)
    return [
        {"rule": finding["rule"], "about": list(finding["about"]), "reason": reason}
        for finding, reason in keyed
    ]
