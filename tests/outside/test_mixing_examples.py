"""The mixing calculator against worked examples of the trade, each with its source."""

from fractions import Fraction

import pytest

from records.mixing import plan_mix
from shared.quantities import Quantity, parse
from tests.outside.check_values import rows

ROWS = rows("mixing.csv")


def stated(row: dict[str, str]) -> Quantity:
    plan = plan_mix(row["area"], row["coverage"], row["dilution"], row["tank"] or None, row["flow"] or None)
    member: object = plan.as_json()
    for key in row["member"].split("."):
        member = member[int(key) if key.isdigit() else key]
    return Quantity(**member)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_worked_example_comes_out_as_published(row):
    expected = parse(row["expected"])

    assert abs(stated(row).to(expected.unit) - expected.exact) <= Fraction(row["tolerance"])


def test_every_worked_example_names_its_source():
    assert all(row["source"] for row in ROWS)
