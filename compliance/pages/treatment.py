"""A treatment's page with what the rules say: of the draft now, of a signed record as it was stored."""

from typing import Any

from compliance.compare import compare
from compliance.models import StoredCheck
from compliance.pages.comparison import newest_check, said
from compliance.pages.findings import grouped, not_checked
from compliance.pages.phone_sheet import TELLS_HERE
from compliance.pages.remarks import remarks_on
from records.models import SignedRecord, Treatment
from records.pages.remarks import Remarks
from records.pages.treatment import RecordFile, TreatmentPage
from records.record_files import record_file


def signed_check(record: SignedRecord) -> StoredCheck | None:
    """The check that was signed with this version; None for what was made void, which has none."""
    checks = StoredCheck.objects.for_firm(record.firm).filter(signed_record=record)
    return checks.filter(occasion=StoredCheck.Occasion.SIGNING).first()


class CheckedTreatmentPage(TreatmentPage):
    draft_template = "compliance/treatment_draft.html"
    signed_template = "compliance/treatment_signed.html"

    def remarks(self, treatment: Treatment) -> Remarks:
        return remarks_on(treatment, self.language)

    def on_draft(self, treatment: Treatment) -> dict[str, Any]:
        return {"told_here": TELLS_HERE}

    def on_signed(self, treatment: Treatment) -> dict[str, Any]:
        if not self.may("compliance.view_checks"):
            return {}
        return {"sees_checks": True, **self._checked(treatment)}

    def _checked(self, treatment: Treatment) -> dict[str, Any]:
        check = newest_check(treatment)
        if check is None:
            return {"check": None}
        return {
            "check": check,
            "groups": grouped(check.stored, self.language),
            "not_checked": not_checked(check.stored, self.language),
            "answers": answers_of(check.signed_record, check.stored, self.language),
            "comparison": self._since_signing(check),
        }

    def _since_signing(self, check: StoredCheck) -> dict[str, list[str]] | None:
        first = signed_check(check.signed_record)
        if first is None or first == check:
            return None
        return said(compare(first.stored, check.stored), self.language)


def answers_of(record: SignedRecord, check: dict[str, Any], language: str) -> list[dict[str, str]]:
    """What the signer gave as reasons, each once with the titles of its rules as the check stored them."""
    titles = {finding["rule"]: finding["title"][language] for finding in check["findings"]}
    answered: dict[str, list[str]] = {}
    for answer in record_file(record, with_log=False)["record"]["answers"]:
        answered.setdefault(answer["reason"], []).append(titles.get(answer["rule"], answer["rule"]))
    return [
        {"title": "; ".join(dict.fromkeys(rules)), "reason": reason} for reason, rules in answered.items()
    ]


class CheckedRecordFile(RecordFile):
    def check(self, record: SignedRecord) -> dict[str, Any] | None:
        check = signed_check(record) if self.may("compliance.view_checks") else None
        return check.stored if check else None
