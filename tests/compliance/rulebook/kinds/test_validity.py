"""Kind `validity`: a dated thing was in force on the day of the treatment, 14 September 2026."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, outcome, pack, rule

LABEL = "mixes[0].products[0].label"
DATED = rule(
    kind="validity",
    judges="products",
    valid_from="product.label.valid_from",
    valid_to="product.label.valid_to",
)


def dated(first: str | None, last: str | None) -> dict[str, Any]:
    return {f"{LABEL}.valid_from": first, f"{LABEL}.valid_to": last}


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        ("2026-09-14", "2026-09-14", "met"),
        ("2026-09-15", None, "not_met"),
        (None, "2026-09-13", "not_met"),
        ("2025-03-01", None, "met"),
        (None, "2026-09-14", "met"),
        (None, None, "cant_tell"),
    ],
)
def test_both_printed_days_count_and_a_missing_one_is_open(
    first: str | None, last: str | None, expected: str
) -> None:
    assert outcome(DATED, changes=dated(first, last)) == expected


def test_a_lapsed_version_is_told_with_its_days() -> None:
    found = finding(DATED, changes=dated("2025-03-01", "2026-09-13"))
    assert found.message.say("en") == (
        "Sample Moss Wash: Not in force on 2026-09-14: Example Act 1(a) is for 2025-03-01 to 2026-09-13. Use "
        "the version that is on the container."
    )
    assert "rige 2025-03-01 a 2026-09-13" in found.message.say("es")
    assert found.about == (f"{LABEL}.valid_to",)


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        ("2026-09-15", None, ("from 2026-09-15 on", "desde el 2026-09-15")),
        (None, "2026-09-13", ("until 2026-09-13", "hasta el 2026-09-13")),
    ],
)
def test_an_open_end_is_said(first: str | None, last: str | None, said: tuple[str, str]) -> None:
    found = finding(DATED, changes=dated(first, last))
    assert said[0] in found.message.say("en") and said[1] in found.message.say("es")


def test_without_a_day_it_cant_tell() -> None:
    assert finding(DATED, changes={"timing": None}).about == ("timing.started_at",)


def test_only_days_can_be_asked() -> None:
    with pytest.raises(RuleError, match="neither a time nor a day"):
        pack({**DATED, "valid_to": "product.label.version"})
