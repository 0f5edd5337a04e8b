"""Signed records over the API, with what the rules said when they were signed."""

from typing import Any

from compliance.pages.treatment import signed_check
from records.models import SignedRecord
from records.programs.signed import VersionView


class CheckedVersionView(VersionView):
    def check(self, record: SignedRecord) -> dict[str, Any] | None:
        check = signed_check(record) if self.may("compliance.view_checks") else None
        return check.stored if check else None
