"""The mass of active ingredient from amount, density and percentage, against published values."""

from fractions import Fraction

import pytest

from compliance.reports.masses import ingredient_in
from records.document.computed import Amount
from records.document.types import ActiveIngredient, Product
from shared.quantities import UNITS, parse
from tests.outside.check_values import rows


@pytest.mark.parametrize("row", rows("active_ingredients.csv"), ids=lambda row: row["id"])
def test_the_mass_is_what_is_printed(row):
    amount, expected = parse(row["amount"]), parse(row["expected"])
    density = parse(row["density"]) if row["density"] else None
    ingredient = ActiveIngredient(name="a", percent=row["percent"], basis=row["basis"])
    given = Amount(amount.exact, amount.unit, "", {})
    found = ingredient_in(given, Product(density=density and density.as_json()), ingredient)
    told = found / UNITS[expected.unit].factor
    assert abs(told - expected.exact) <= Fraction(row["tolerance"])
