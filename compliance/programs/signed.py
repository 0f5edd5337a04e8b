"""Signed records over the API, with what the rules said when they were signed."""

from typing import Any

from compliance.pages.treatment import signed_check
from records.models import SignedRecord
from records.programs.signed import VersionView
from records.programs.treatments import FINDINGS
from records.programs.views import in_scope


class CheckedVersionView(VersionView):
    def check(self, record: SignedRecord) -> dict[str, Any] | None:
        sees = in_scope(self.request, FINDINGS) and self.may("compliance.view_checks")
        check = signed_check(record) if sees else None
        return check.stored if check else None
