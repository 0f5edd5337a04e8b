"""What a version of a signed record says otherwise than an earlier one, side by side."""

import json
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse

from records.document.differing import differing
from records.document.member_places import member_said
from records.document.placing import value_at
from records.models import SignedRecord
from records.pages.firm_page import FirmPage
from records.pages.row_changes import said_value
from records.selectors import document_of, signed_record_of, signed_versions

Json = dict[str, Any]
SAID_ABOVE = ("record.version", "record.replaces", "record.reason", "record.corrected_at")
"""Members by which every version differs; the head of the page says them."""


@dataclass(frozen=True)
class VersionChange:
    """One member that two versions say otherwise."""

    name: str
    before: str
    after: str


class VersionChanges(FirmPage):
    """Two versions: the one in the address, and the one before it or the one that `since` names."""

    template_name = "records/version_changes.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        later = signed_record_of(self.firm, treatment.pk, kwargs["version"])
        earlier = signed_record_of(self.firm, treatment.pk, self._since(later.version))
        return self.page(
            treatment=treatment,
            pair=[earlier, later],
            others=signed_versions(treatment).filter(version__lt=later.version).exclude(pk=earlier.pk),
            later=later,
            changes=changes_between(document_of(earlier), document_of(later), self.language),
            zone=treatment.site.time_zone or self.firm.time_zone,
            **self.on_versions(earlier, later),
        )

    def on_versions(self, earlier: SignedRecord, later: SignedRecord) -> dict[str, Any]:
        """What a subclass adds to the page."""
        return {}

    def _since(self, version: int) -> int:
        since = self.request.GET.get("since", "")
        earlier = int(since) if since.isascii() and since.isdigit() and len(since) < 9 else version - 1
        if not 0 < earlier < version:
            raise Http404("no version before this one")
        return earlier


def changes_between(earlier: Json, later: Json, language: str) -> list[VersionChange]:
    """What the later document says otherwise, member by member in the words of the form."""
    return [
        VersionChange(
            member_said(path, language, [later, earlier]),
            *(_said(path, value_at(document, path), language) for document in (earlier, later)),
        )
        for path in differing(earlier, later, most=None)
        if not path.startswith(SAID_ABOVE)
    ]


def _said(path: str, value: Any, language: str) -> str:
    try:
        return said_value(path, value, language)
    except KeyError:
        return json.dumps(value, ensure_ascii=False)
