"""Whatever a firm writes for itself, each limit of law and label stays in force or is made stricter."""

from dataclasses import replace
from datetime import date
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from compliance.check import check_document
from compliance.own_rules import OwnRule, own_pack
from compliance.rulebook.bounds import order
from compliance.rulebook.limits import LimitInForce
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.own import CALM
from tests.compliance.patched import load

UNITS = {"wind_speed": ("mph", "km/h"), "dilution": ("percent",), "coverage": ("gal/(100 ft**2)", "L/m**2"),
         "hours_dry_after": ("hour", "min")}  # fmt: skip
EXAMPLE = load("documents/example.json")
DAY = date(2026, 9, 14)


@st.composite
def own_limits(draw: Any) -> OwnRule:
    quantity = draw(st.sampled_from(sorted(UNITS)))
    size = f"{draw(st.integers(1, 60))} {draw(st.sampled_from(UNITS[quantity]))}"
    params = {"quantity": quantity, draw(st.sampled_from(["min", "max"])): size}
    return replace(CALM, params=params, level=draw(st.sampled_from(["advised", "required"])), examples=())


def limits(rules: list[OwnRule]) -> tuple[LimitInForce, ...]:
    numbered = [replace(rule, key=str(number)) for number, rule in enumerate(rules, 1)]
    policy = own_pack(numbered, "1", "Quillfeather Exterior Care", DAY)
    return check_document(read(EXAMPLE), read_context({"on": "2026-09-15"}), firm_policy=policy).limits


def is_as_strict(one: LimitInForce, other: LimitInForce) -> bool:
    """Whether `one` bounds the same as `other`, no looser on either side that `other` bounds."""
    if (one.quantity, one.subject) != (other.quantity, other.subject):
        return False
    pairs = ((one.min, other.min, 1), (one.max, other.max, -1))
    return all(
        theirs is None or (ours is not None and order(ours, theirs) * sign >= 0)
        for ours, theirs, sign in pairs
    )


BEFORE = limits([])


@settings(max_examples=60, deadline=None)
@given(st.lists(own_limits(), min_size=1, max_size=4))
def test_no_rule_of_the_firm_loosens_a_limit_in_force(rules):
    after = limits(rules)
    assert BEFORE
    for limit in BEFORE:
        assert any(is_as_strict(one, limit) for one in after), limit
        if limit.level == "required":
            binding = [one for one in after if one.level == "required"]
            assert any(is_as_strict(one, limit) for one in binding), limit
