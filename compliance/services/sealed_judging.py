"""Whether what was sealed on a device becomes the record, why not, and what a manager should look at."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from compliance.services.sealed_wordings import WORDINGS
from compliance.services.signing import Prepared, prepare, sign_prepared
from records.document.canonical import as_json
from records.document.differing import differing
from records.document.faults import DocumentFaults
from records.document.member_places import member_said
from records.document.time_kinds import YEARS
from records.document.types import TreatmentDocument
from records.models import DeviceKey, Seal, SignedRecord, Treatment
from records.services.sheets import PARTS, issued_at
from records.services.signing import UnreadEntriesError
from records.services.to_sign import CLOCKS_DIFFER_BY, ImplausibleTimeError, Signer, document_to_sign
from shared.wording import LANGUAGES, fill

Json = dict[str, Any]
MOST_AHEAD = timedelta(days=1)
"""A device's clock that is further off is no clock."""
LATE = timedelta(days=1)


@dataclass(frozen=True)
class Sealed:
    """What came in: document, reasons, proof of its sheet, key, who signs with which clock, and when."""

    document: TreatmentDocument
    answers: Sequence[Mapping[str, Any]]
    proof: str
    key: DeviceKey
    signer: Signer
    received_at: datetime

    @classmethod
    def of(cls, seal: Seal, document: TreatmentDocument) -> "Sealed":
        """By the row of the seal, whose bytes are those of `document`."""
        ahead = seal.sent_at - seal.received_at
        clock_ahead = ahead if abs(ahead) > CLOCKS_DIFFER_BY else timedelta()
        signer = Signer(seal.by, seal.claimed_at, seal.device_at, clock_ahead)
        return cls(document, seal.answers, seal.proof, seal.key, signer, seal.received_at)

    @property
    def sealed_by(self) -> datetime:
        """The latest moment at which it can have been sealed, by the claim and by the device's clock."""
        return max(self.signer.claimed_at, self.device_at - self.signer.clock_ahead)

    @property
    def claimed(self) -> datetime:
        """The latest moment that the claim can mean, where a slow clock told the signer the time."""
        return max(self.signer.claimed_at, self.signer.claimed_at - self.signer.clock_ahead)

    @property
    def claim_is_far_from_clock(self) -> bool:
        """Whether the claim fits neither what the device's clock said nor that set right."""
        said = (self.device_at, self.device_at - self.signer.clock_ahead)
        return all(abs(moment - self.signer.claimed_at) > CLOCKS_DIFFER_BY for moment in said)

    @property
    def device_at(self) -> datetime:
        """What the device's clock said when it sealed."""
        return self.signer.device_at or self.signer.claimed_at


@dataclass(frozen=True)
class Came:
    """The record, or why there is none; and what to look at. Sentences by language."""

    record: SignedRecord | None = None
    why_not: list[Json] = field(default_factory=list)
    marks: list[Json] = field(default_factory=list)


def signed(treatment: Treatment, sealed: Sealed) -> Came:
    """Sign the locked draft as it was sealed, where it is that and the seal may count."""
    if treatment.state != Treatment.State.DRAFT:
        return Came(why_not=[_said("not_a_draft")])
    document = as_json(sealed.document)
    given_out = issued_at(treatment, document, sealed.signer.user, sealed.proof)
    if refusal := _refusal(sealed, given_out):
        return Came(why_not=[_said(refusal)])
    parts = {name: document[name] for name in PARTS if name in document}
    try:
        prepared = prepare(treatment, sealed.signer, parts if given_out else None)
    except DocumentFaults as error:
        return refused(error)
    here = as_json(prepared.document)
    if paths := differing(document, here):
        return Came(why_not=[{"path": path} | _naming("differs", path, [document, here]) for path in paths])
    answers = _answers(prepared, sealed.answers)
    marks = [*_marks(treatment, sealed, document), *_unanswered(prepared, answers)]
    try:
        with transaction.atomic():
            record = sign_prepared(treatment, prepared, answers, sealed.signer, treatment.revision)
    except UnreadEntriesError:
        return Came(why_not=[_said("unread")])
    except ImplausibleTimeError:
        return Came(why_not=[_said("implausible_time")])
    return Came(record, marks=marks)


def refused(error: DocumentFaults) -> Came:
    """No record, since what was sealed, or the draft, contradicts itself."""
    return Came(why_not=[{language: each.say(language) for language in LANGUAGES} for each in error.faults])


def _refusal(sealed: Sealed, given_out: datetime | None) -> str:
    """Why the seal may not count, whatever it seals; nothing where it may. Without proof of when its sheet was
    given out it could have been made at any time since: it must be of now."""
    revoked = getattr(sealed.key, "revocation", None)
    if any(moment.year not in YEARS for moment in (sealed.signer.claimed_at, sealed.device_at)):
        return "implausible_time"
    if abs(sealed.signer.clock_ahead) > MOST_AHEAD:
        return "clock_far_off"
    if revoked and revoked.at <= sealed.sealed_by:
        return "revoked_before"
    earlier = min(sealed.sealed_by, sealed.claimed)
    if earlier < sealed.key.made_at - CLOCKS_DIFFER_BY:
        return "before_the_key"
    if earlier < (given_out or sealed.received_at) - CLOCKS_DIFFER_BY:
        return "before_the_sheet" if given_out else "no_sheet"
    return ""


def _marks(treatment: Treatment, sealed: Sealed, document: Json) -> Iterator[Json]:
    if hasattr(sealed.key, "revocation"):
        yield _said("revoked_since")
    if ahead := sealed.signer.clock_ahead:
        minutes = str(round(abs(ahead) / timedelta(minutes=1)))
        yield _said("clock_ahead" if ahead > timedelta() else "clock_behind", minutes=minutes)
    if sealed.claim_is_far_from_clock:
        zone = ZoneInfo(treatment.site.time_zone or treatment.firm.time_zone)
        moments = {"claimed": sealed.signer.claimed_at, "clock": sealed.device_at}
        said = {name: at.astimezone(zone).isoformat(" ", "minutes") for name, at in moments.items()}
        yield _said("claim_off_clock", **said)
    if (late := sealed.received_at - sealed.sealed_by) > LATE:
        yield _said("late", hours=str(round(late / timedelta(hours=1))))
    now = as_json(document_to_sign(treatment, sealed.signer))
    sealed_parts, parts_now = ({name: of.get(name) for name in PARTS} for of in (document, now))
    for path in differing(sealed_parts, parts_now):
        yield _naming("rows_changed", path, [document, now])


def _answers(prepared: Prepared, given: Sequence[Mapping[str, Any]]) -> list[Json]:
    """The reasons that answer what is open: the device could not tell all that the rules ask."""
    reasons = {(each["rule"], tuple(each["about"])): str(each["reason"]).strip() for each in given}
    findings = prepared.open_findings
    keyed = [(each, reasons.get((each["rule"], tuple(each["about"])))) for each in findings]
    return [
        {"rule": finding["rule"], "about": list(finding["about"]), "reason": reason}
        for finding, reason in keyed
        if reason
    ]


def _unanswered(prepared: Prepared, answers: Sequence[Json]) -> Iterator[Json]:
    """A record is not kept from being made for want of a reason; a manager is told."""
    if left := len(prepared.open_findings) - len(answers):
        yield _said("unanswered", count=str(left))


def _naming(wording_id: str, path: str, documents: Sequence[Json]) -> Json:
    return {
        language: fill(WORDINGS[wording_id], {"member": member_said(path, language, documents)}, language)
        for language in LANGUAGES
    }


def _said(wording_id: str, **blanks: str) -> Json:
    return {language: fill(WORDINGS[wording_id], blanks, language) for language in LANGUAGES}
