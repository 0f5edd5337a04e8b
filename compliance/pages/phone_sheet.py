"""The sheet by which a phone tells limits and musts of a draft without a signal."""

from typing import Any

from compliance.phone_sheet import limits_and_musts
from compliance.services.check import examine
from records.document.reader import read
from records.models import Treatment
from records.tanks_at_hand import tanks_at_hand

JUDGE = (
    "compliance/exact.js",
    "compliance/treatment_facts.js",
    "compliance/conditions.js",
    "compliance/subjects.js",
    "compliance/told.js",
    "compliance/strength.js",
    "compliance/coverage.js",
    "compliance/limit_judge.js",
    "compliance/must_judge.js",
    "compliance/limits_and_musts.js",
)
"""The scripts that judge a document by a sheet."""
KNOWS = ("compliance/limits_known.js",)
"""The script that says what this device can't judge, or only by another day's rules."""
_DOCUMENT = ("records/placing.js", "records/phone_document.js", "records/mending.js")
TELLS_HERE = (*_DOCUMENT, *JUDGE, *KNOWS, "compliance/told_here.js")
"""The scripts by which a phone says so on a page that stands by itself."""


def sheet_of(treatment: Treatment) -> dict[str, Any]:
    """What a phone judges the draft by until it has a signal again; its sentences are in both languages."""
    document = read(treatment.document)
    examined = examine(treatment, document)
    tanks = (line for tank in tanks_at_hand(treatment) for line in tank.mix.get("products") or [])
    return limits_and_musts(examined.check.packs, document, examined.context, list(tanks))
