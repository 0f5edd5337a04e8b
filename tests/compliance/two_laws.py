"""Two versions of an invented law, and how a record is signed under them."""

from datetime import datetime, timedelta

from compliance.services.signing import prepare, sign_confirmed
from records.models import Treatment, User
from records.services.to_sign import Signer
from tests.compliance.rulebook.builders import pack, rule

EVENING = datetime.fromisoformat("2026-09-14T17:30:00-07:00")
LATER = EVENING + timedelta(days=60)


def asks(name: str, member: str) -> dict:
    words = {"en": member, "es": member}
    return rule(id=f"xx/{name}", kind="record", stage="after", asks=[{"words": words, "path": member}])


FIRST = pack(asks("end", "timing.finished_at"))
SECOND = pack(asks("end", "timing.finished_at"), asks("notes", "notes"), version="2")


def sign(treatment: Treatment, user: User) -> None:
    """Sign with a reason for each finding that wants one."""
    findings = prepare(treatment, Signer(user)).open_findings
    reasons = [{"rule": one["rule"], "about": one["about"], "reason": "as it was"} for one in findings]
    sign_confirmed(treatment, user, reasons)
