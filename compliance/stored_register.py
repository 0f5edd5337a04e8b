"""What a register keeps of a stored check: the rules that are open, and the strictest limit on wind. Pure."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, TypedDict

from msgspec.json import Decoder

from shared.quantities import Quantity

Json = Mapping[str, Any]


class _Finding(TypedDict):
    rule: str
    outcome: str


class _Findings(TypedDict, total=False):
    findings: list[_Finding]


_FINDINGS = Decoder(_Findings)


def open_rules_in(data: bytes) -> tuple[set[str], set[str]]:
    """The same of a stored check's canonical bytes: the rest of it is not read."""
    return open_rules(_FINDINGS.decode(data))


def open_rules(stored: Json) -> tuple[set[str], set[str]]:
    """The ids of the rules that are not met, and of those that could not be told and are not among them."""
    by_outcome: dict[str, set[str]] = {"not_met": set(), "cant_tell": set()}
    for finding in stored.get("findings", ()):
        by_outcome.get(finding["outcome"], set()).add(finding["rule"])
    return by_outcome["not_met"], by_outcome["cant_tell"] - by_outcome["not_met"]


def wind_limit(stored: Json) -> Fraction | None:
    """The least of what the wind may be at most, in m/s; None where the check names none."""
    limits = [each["max"] for each in stored.get("limits", ()) if each["quantity"].endswith("wind_speed")]
    return min((Quantity(each["value"], each["unit"]).base for each in limits if each), default=None)
