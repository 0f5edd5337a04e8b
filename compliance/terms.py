"""Until when a record is kept, by what its stored checks say. Pure."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

Json = dict[str, Any]
_UNKNOWN = "retention/unknown"
_CANT_TELL = "cant_tell"


@dataclass(frozen=True)
class Term:
    """The last day on which the record is kept, and the rules that ask for no less."""

    until: date
    under: tuple[str, ...]


def term_of(checks: Sequence[Json], retention_rules: Collection[str] = ()) -> Term | None:
    """The longest duty among all checks of all versions, oldest first.

    None where no rule sets a term, and where the newest check can't tell one: then the record is kept.
    `retention_rules` are ids of rules that set terms, as far as they are known.
    """
    if not checks or any(_is_open(finding, retention_rules) for finding in checks[-1]["findings"]):
        return None
    terms = [
        (finding["keep_until"], finding["rule"])
        for check in checks
        for finding in check["findings"]
        if finding["keep_until"]
    ]
    if not terms:
        return None
    longest = max(until for until, _rule in terms)
    under = sorted({rule for until, rule in terms if until == longest})
    return Term(date.fromisoformat(longest), tuple(under))


def _is_open(finding: Json, retention_rules: Collection[str]) -> bool:
    asked = finding["rule"] in retention_rules and finding["outcome"] == _CANT_TELL
    return asked or finding.get("wording") == _UNKNOWN
