"""What is drawn from a tank has its share of everything in it, and draws and left-over add up to it."""

from datetime import date
from fractions import Fraction

import pytest

from records.document.amounts import mixed, strength
from records.document.reader import read
from records.filled_tank import FilledTank, as_mix, drawn, drawn_before, left_overs, with_ids
from shared.quantities import Quantity
from tests.compliance.patched import load, patched

EXAMPLE = load("documents/example.json")
DAY = date(2026, 9, 14)
MIX = {**EXAMPLE["mixes"][0], "products": with_ids(EXAMPLE["mixes"][0]["products"], "t")}
KEPT = {"amount": {"value": "1", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
PLANNED = {"id": "0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11", "products": [{"id": "planned", "name": "Other"}]}


def tank() -> FilledTank:
    return FilledTank(
        "t", DAY, "2026-09-14T08:00:00-07:00", MIX,
        Quantity("15", "gal"), Quantity("15", "gal"), {"batch": "b-1"},
    )  # fmt: skip


def document_with(mix: dict) -> dict:
    return {**EXAMPLE, "mixes": [mix]}


@pytest.mark.parametrize(("amount", "product", "water"), [("5", "0.5", "4.5"), ("7.5", "0.75", "6.75")])
def test_a_draw_has_its_share_of_product_and_water(amount, product, water):
    values = drawn(tank(), Quantity(amount, "gal"), "mixes[m]", PLANNED, ["Rig 2"])
    ((line,),) = [[value for path, value in values.items() if "products" in path and value]]
    assert line["amount"] == {"value": product, "unit": "gal"}
    assert (line["lot"], line["label"]["version"]) == ("L-0457", "2025-03")
    assert values["mixes[m].diluent"] == {"name": "water", "amount": {"value": water, "unit": "gal"}}
    assert values["mixes[m].loads"] == [{"volume": {"value": amount, "unit": "gal"}, "batch": "b-1"}]
    assert values["mixes[m].equipment"] == "Rig 2"


def test_what_was_planned_and_is_not_in_the_tank_goes():
    values = drawn(tank(), Quantity("5", "gal"), "mixes[m]", PLANNED, [])
    assert values["mixes[m].products[planned]"] is None
    assert "mixes[m].equipment" not in values


def test_draws_in_another_unit_add_up_to_the_tank():
    shares = [
        drawn(tank(), Quantity(amount, unit), "m", {}, [])["m.diluent"]["amount"]["value"]
        for amount, unit in (("5", "gal"), ("40", "qt"))
    ]
    assert sum(Fraction(share) for share in shares) == Fraction("13.5")


def test_a_kept_left_over_is_a_tank_of_the_same_strength():
    (left,) = left_overs(patched(EXAMPLE, {"mixes[0].left_over": KEPT}), DAY)
    mix = as_mix(left, "treatment", ["Main roof, north slope"], ["Rig 2"])
    document = read(document_with(mix))
    assert mixed(document, 0).say("en") == "1 gal"
    assert strength(document, 0, 0).say("en") == strength(read(EXAMPLE), 0, 0).say("en")
    assert mix["loads"] == [{"volume": {"value": "1", "unit": "gal"}, "from_record": "2026-0142"}]
    assert mix["surfaces"] == [{"surface": "Main roof, north slope"}]
    assert as_mix(left, "treatment", [], [])["id"] == mix["id"] != as_mix(left, "other", [], [])["id"]


@pytest.mark.parametrize(
    "change",
    [
        {"mixes[0].left_over": {**KEPT, "disposition": "taken-to-hazardous-waste"}},
        {"mixes[0].left_over": {**KEPT, "amount": None}},
        {"mixes[0].left_over": None},
        {"mixes[0].left_over": KEPT, "mixes[0].products[0].amount": None},
    ],
)
def test_what_is_gone_or_of_unknown_strength_is_no_left_over(change):
    assert list(left_overs(patched(EXAMPLE, change), DAY)) == []


def test_what_was_drawn_of_the_same_tank_counts_and_of_another_one_does_not():
    mix = {**EXAMPLE["mixes"][0], "loads": [{"volume": {"value": "4", "unit": "gal"}, "batch": "b-1"}]}
    assert drawn_before(tank(), document_with(mix)) == Quantity("4", "gal").base
    other = {**mix, "loads": [{"volume": {"value": "4", "unit": "gal"}, "batch": "b-2"}]}
    assert drawn_before(tank(), document_with(other)) == 0
