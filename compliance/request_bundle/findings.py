"""What the rules said of a version, with each rule as it stood: law and label, never the firm's own rules."""

import json
from collections.abc import Iterator
from typing import Any

from compliance.models import PackVersion, StoredCheck
from compliance.request_bundle.still_named import holds
from compliance.request_bundle.worked_out import OfRecord
from compliance.stored_form import unsqueezed
from records.models import SignedRecord
from shared.canonical import canonical_bytes

LAYERS = ("law", "label")
SENTENCES = ("message", "observed", "bound", "blanks", "due")
"""What a finding says of the record itself, and not of its rule."""
Json = dict[str, Any]


def findings_of(record: SignedRecord, of: OfRecord, names: set[str]) -> tuple[Json | None, list[Json]]:
    """The findings of the check that was signed with the version, and its packs; None for one without."""
    checks = StoredCheck.objects.for_firm(record.firm).filter(signed_record=record)
    check = checks.filter(occasion=StoredCheck.Occasion.SIGNING).first()
    if check is None:
        return None, []
    stored, left_out = check.stored, of.file["record"]["sections"].keys() - of.file["sections"].keys()
    found = [_said(each, set(left_out), names) for each in stored["findings"] if each["layer"] in LAYERS]
    told = {name: stored[name] for name in ("on", "engine", "document", "packs", "not_checked", "not_covered")}
    return {"number": of.number, "version": of.version, **told, "findings": found}, stored["packs"]


def packs_as_they_stood(digests: list[str]) -> Iterator[tuple[str, bytes]]:
    """The rules of each pack, whole, as they were when the records were checked."""
    for pack in PackVersion.objects.filter(digest__in=digests).order_by("pack", "version"):
        content = json.loads(unsqueezed(bytes(pack.content)))
        yield f"findings/rules/{pack.pack}-{pack.version}.json", canonical_bytes(content)


def _said(finding: Json, left_out: set[str], names: set[str]) -> Json:
    """Without its sentences where they might tell something that is left out: the rule and its outcome stay."""
    about = finding.get("about") or []
    tops = {path.partition(".")[0].partition("[")[0] for path in ([about] if isinstance(about, str) else about)}
    if left_out and (not tops or tops & left_out or holds(names, finding)):
        return {name: value for name, value in finding.items() if name not in SENTENCES}
    return finding
