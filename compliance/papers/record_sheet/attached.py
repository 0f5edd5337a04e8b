"""The signed record as data, as it lies in the sheet's PDF."""

from collections.abc import Mapping
from typing import Any

from compliance.papers.record_sheet.care import APART
from compliance.papers.record_sheet.wording import WORDS
from shared.canonical import canonical_bytes
from shared.paper.signed_pdf import Attachment


def attached(file: Mapping[str, Any], language: str) -> Attachment:
    """A record file (`record-file/1`) to go into its own sheet: canonical bytes that can be verified.

    Names that the sheet leaves out, and the check, which is the house's own, must not leave with it unseen: the
    section that holds such names is withheld, and the record binds it all the same. What was sealed on a
    device is withheld with it: its digest of the whole document has no salt, and would tell a right guess.
    """
    stated = file["record"]["record"]
    name = f"{stated['number']}-{stated['version']}.json"
    description = WORDS["after/attachment"].say(language)
    return Attachment(name, canonical_bytes(_handed_out(file)), "application/json", description)


def _handed_out(file: Mapping[str, Any]) -> dict[str, Any]:
    handed = {name: value for name, value in file.items() if name != "check"}
    if any(notice.get("to") in APART for notice in file["sections"].get("notices") or ()):
        for part in ("sections", "salts"):
            handed[part] = {name: value for name, value in file[part].items() if name != "notices"}
        handed.pop("seal", None)
    return handed
