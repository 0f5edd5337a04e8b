"""What a firm's own rule is only for: groups of comparisons, one level deep. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.own_rules.facts import choices, typed
from compliance.rulebook.conditions import read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.reading import Params, Setting
from shared.us_places import county_name

Json = dict[str, Any]
COMPARISONS = ("is", "is not", "at least", "at most", "present", "absent")
OVER = ("some", "every", "none")
JOINS = ("all", "any", "none")
_COUNTIES = ("treatment.county", "site.county")
"""The county as it is read, and as it was typed: whichever is chosen, the first is compared."""


@dataclass(frozen=True)
class Row:
    """One comparison; `asks` is one of `COMPARISONS`. Within a list `over` says of which items it must hold."""

    path: str
    asks: str
    value: str = ""
    over: str = "some"

    @classmethod
    def from_json(cls, data: Mapping[str, str]) -> "Row":
        """A row as it is kept; one of before `over` was asked meant by `is not` that no item is."""
        if "over" not in data and "[]" in data["path"] and data["asks"] == "is not":
            return cls(data["path"], "is", data["value"], "none")
        return cls(**data)


@dataclass(frozen=True)
class Group:
    """Comparisons that must all hold, of which one must, or of which none may: one of `JOINS`."""

    rows: tuple[Row, ...]
    join: str = "all"


def groups_from_json(data: Mapping[str, Any]) -> tuple[tuple[Group, ...], str]:
    """The groups of a rule as it is kept, and how they are joined; rows of before there were groups are one."""
    if "groups" not in data:
        rows = tuple(Row.from_json(row) for row in data["rows"])
        return ((Group(rows, data["join"]),) if rows else ()), "all"
    kept = data["groups"]
    groups = (Group(tuple(Row.from_json(row) for row in one["rows"]), one["join"]) for one in kept)
    return tuple(groups), data["join"]


def condition_of(groups: Sequence[Group], join: str) -> Json:
    """The groups as the condition of a rule pack. Raises RuleError where they are none."""
    parts = [_group(group, number) for number, group in enumerate(groups)]
    when = parts[0] if len(parts) == 1 else {join: parts}
    read_condition(Params({}, Setting(VOCABULARY, "document", {})), when)
    return when


def _group(group: Group, number: int) -> Json:
    parts = [_comparison(row, ("when", number, at)) for at, row in enumerate(group.rows)]
    joined = parts[0] if len(parts) == 1 else {"all" if group.join == "all" else "any": parts}
    return {"not": joined} if group.join == "none" else joined


def _comparison(row: Row, place: tuple[str | int, ...]) -> Json:
    if row.path not in choices():
        raise RuleError("rule/unknown_word", {"got": row.path, "allowed": "-"}, place)
    listed, in_list, within = row.path.partition("[]")
    condition = _asked(row, f"item{within}" if in_list else row.path)
    if not in_list:
        return condition
    over = {"every" if row.over == "every" else "some": listed, "has": condition}
    return {"not": over} if row.over == "none" else over


def _asked(row: Row, fact: str) -> Json:
    if row.asks in ("present", "absent"):
        return {"fact": fact, "present": "yes" if row.asks == "present" else "no"}
    value = typed(choices()[row.path].term, row.value)
    if fact in _COUNTIES:
        fact, value = _COUNTIES[0], county_name(value)
    if row.asks == "is not":
        return {"not": {"fact": fact, "is": value}}
    return {"fact": fact, row.asks: value}
