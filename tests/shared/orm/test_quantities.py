"""Quantities keep their digits as entered; projected ones filter and add up in SQL.

Units: 1 gal = 3.785411784 L and 1 ft² = 0.09290304 m² exactly (NIST Handbook 44, appendix C).
"""

from decimal import Decimal
from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError
from django.db.models import Sum
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from records.models import Surface, Treatment, TreatmentProduct
from records.services.planning import Plan, plan_treatment
from shared.orm.quantities import QuantityFormField, projected
from shared.quantities import UNITS, Quantity, from_fraction, units_of
from tests.factories import SurfaceFactory


def test_digits_and_unit_come_back_as_entered(firm):
    surface = SurfaceFactory(firm=firm, plan_area="1200.50 ft**2")
    read = Surface.objects.for_firm(firm).get(pk=surface.pk).plan_area
    assert read == Quantity("1200.50", "ft**2")


def test_an_area_left_empty_is_unknown(firm):
    surface = SurfaceFactory(firm=firm, plan_area=None)
    surface.refresh_from_db()
    assert surface.plan_area is None
    assert surface.slope_area is None


def test_a_wrong_dimension_is_refused_in_the_readers_words():
    field = QuantityFormField(dimension="area")
    assert field.clean("2600 sq ft") == Quantity("2600", "ft**2")
    with pytest.raises(ValidationError, match="expected an area, got 3000 gal"):
        field.clean("3000 gal")
    with translation.override("es"), pytest.raises(ValidationError, match="se esperaba"):
        field.clean("3000 gal")


@pytest.fixture
def treatment(firm, member) -> Treatment:
    surface = SurfaceFactory(firm=firm)
    return plan_treatment(
        firm, member.user, Plan(site=surface.site, surfaces=[surface], planned_at=member.user.created_at)
    )


def line(treatment: Treatment, quantity: Quantity) -> TreatmentProduct:
    return TreatmentProduct(firm=treatment.firm, treatment=treatment, applied_volume=projected(quantity.base))


def test_amounts_in_different_units_add_up_in_sql(treatment):
    amounts = [Quantity("0.1", "gal")] * 10 + [Quantity("128", "fl_oz"), Quantity("3.785411784", "L")]
    TreatmentProduct.objects.bulk_create([line(treatment, amount) for amount in amounts])
    lines = TreatmentProduct.objects.for_firm(treatment.firm)
    assert lines.aggregate(total=Sum("applied_volume"))["total"] == 3 * Decimal("3.785411784")


def test_a_filter_in_sql_holds_at_the_bound_itself(firm, treatment):
    Treatment.objects.for_firm(firm).update(treated_area=projected(Quantity("1342", "ft**2").base))
    bound = projected(Quantity("1342", "ft**2").base)
    just_above = projected(Quantity("1342.000001", "ft**2").base)
    assert Treatment.objects.for_firm(firm).filter(treated_area__gte=bound).exists()
    assert Treatment.objects.for_firm(firm).filter(treated_area__lte=bound).exists()
    assert not Treatment.objects.for_firm(firm).filter(treated_area__gte=just_above).exists()


@given(st.integers(1, 10**9), st.sampled_from(units_of("area") + units_of("volume") + units_of("mass")))
def test_every_entry_of_up_to_six_decimals_is_projected_without_loss_worth_a_droplet(millionths, unit):
    quantity = from_fraction(Fraction(millionths, 10**6), unit, digits=12)
    assert abs(Fraction(projected(quantity.base)) - quantity.exact * UNITS[unit].factor) <= Fraction(
        1, 10**12
    )
