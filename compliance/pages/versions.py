"""Two versions of a record side by side, each with what the rules said of it when it was signed."""

from dataclasses import dataclass
from typing import Any

from compliance.compare import compare
from compliance.models import StoredCheck
from compliance.pages.comparison import said
from compliance.pages.findings import Group, grouped
from compliance.pages.treatment import signed_check
from records.models import SignedRecord
from records.pages.versions import VersionChanges


@dataclass(frozen=True)
class Checked:
    """A version with the findings that it was signed with; a record that was made void has none of its own."""

    version: SignedRecord
    check: StoredCheck | None
    groups: list[Group]


class CheckedVersionChanges(VersionChanges):
    template_name = "compliance/version_changes.html"

    def on_versions(self, earlier: SignedRecord, later: SignedRecord) -> dict[str, Any]:
        if not self.may("compliance.view_checks"):
            return {}
        before, after = (self._checked(version) for version in (earlier, later))
        found: dict[str, Any] = {"checked": [before, after]}
        if before.check and after.check:
            found["comparison"] = said(compare(before.check.stored, after.check.stored), self.language)
        return found

    def _checked(self, version: SignedRecord) -> Checked:
        check = signed_check(version)
        return Checked(version, check, grouped(check.stored, self.language) if check else [])
