"""The sheet by which a phone tells limits and musts of a draft without a signal."""

from typing import Any

from compliance.phone_sheet import limits_and_musts
from compliance.services.check import examine
from records.document.reader import read
from records.models import Treatment

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
TELLS_HERE = ("records/placing.js", "records/phone_document.js", *JUDGE, "compliance/told_here.js")
"""The scripts by which a phone says so on a page that stands by itself."""


def sheet_of(treatment: Treatment) -> dict[str, Any]:
    """What a phone judges the draft by until it has a signal again; its sentences are in both languages."""
    document = read(treatment.document)
    examined = examine(treatment, document)
    return limits_and_musts(examined.check.packs, document, examined.context)
