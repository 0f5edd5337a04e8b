"""What the rules said of a version, with each rule as it stood: law and label, never the firm's own rules."""

import json
import re
from collections.abc import Iterator
from typing import Any

from compliance.models import PackVersion, StoredCheck
from compliance.own_rules.pack import FIRM_PACK
from compliance.request_bundle.still_named import holds
from compliance.request_bundle.worked_out import OfRecord
from compliance.rulebook.wordings import WORDINGS
from compliance.stored_form import unsqueezed
from records.models import SignedRecord
from shared.canonical import canonical_bytes

LAYERS = ("law", "label")
SENTENCES = ("message", "observed", "bound", "blanks", "due")
"""What a finding says of the record itself, and not of its rule."""
_COUNTY = re.compile(".+".join(map(re.escape, WORDINGS["county_not_named"].en.split("{county}"))))
Json = dict[str, Any]


def findings_of(record: SignedRecord, of: OfRecord, names: set[str]) -> tuple[Json | None, list[Json]]:
    """The findings of the check that was signed with the version, and its packs; None for one without."""
    checks = StoredCheck.objects.for_firm(record.firm).filter(signed_record=record)
    check = checks.filter(occasion=StoredCheck.Occasion.SIGNING).first()
    if check is None:
        return None, []
    stored, left_out = check.stored, of.file["record"]["sections"].keys() - of.file["sections"].keys()
    found = [_said(each, set(left_out), names) for each in stored["findings"] if each["layer"] in LAYERS]
    packs = [pack for pack in stored["packs"] if pack["pack"] != FIRM_PACK]
    told = {"number": of.number, "version": of.version, "on": stored["on"], "engine": stored["engine"]}
    return {**told, "packs": packs, **_around(stored, set(left_out), names), "findings": found}, packs


def packs_as_they_stood(digests: list[str]) -> Iterator[tuple[str, bytes]]:
    """The rules of each pack, whole, as they were when the records were checked."""
    for pack in PackVersion.objects.filter(digest__in=digests).order_by("pack", "version"):
        content = json.loads(unsqueezed(bytes(pack.content)))
        yield f"findings/rules/{pack.pack}-{pack.version}.json", canonical_bytes(content)


def _around(stored: Json, left_out: set[str], names: set[str]) -> Json:
    """What was not looked at, but for the county where the site is left out. The digest of the whole document
    has no salt: beside a copy of which something is left out it would tell a right guess."""
    unsaid = [each for each in stored["not_checked"] if not (left_out and holds(names, each))]
    if "site" in left_out:
        unsaid = [each for each in unsaid if not _COUNTY.fullmatch(each["en"])]
    whole = {} if left_out else {"document": stored["document"]}
    return {**whole, "not_checked": unsaid, "not_covered": stored["not_covered"]}


def _said(finding: Json, left_out: set[str], names: set[str]) -> Json:
    """Without its sentences where they might tell something that is left out: the rule and its outcome stay."""
    about = finding.get("about") or []
    tops = {path.partition(".")[0].partition("[")[0] for path in ([about] if isinstance(about, str) else about)}
    if left_out and (not tops or tops & left_out or holds(names, finding)):
        return {name: value for name, value in finding.items() if name not in SENTENCES}
    return finding
