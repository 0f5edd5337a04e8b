"""What was worked out of stock is rounded for the eye, and says so."""

import pytest
from django.utils.translation import override

from records.amounts_said import about
from shared.quantities import Quantity


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("0.623594", "about 0.624 gal"),
        ("7.04437", "about 7.04 gal"),
        ("123.456", "about 123.46 gal"),
        ("0.00123456", "about 0.00123 gal"),
        ("2.999999", "about 3 gal"),
        ("0.125", "0.125 gal"),
        ("12.5", "12.5 gal"),
        ("0", "0 gal"),
        ("1500", "1500 gal"),
    ],
)
def test_to_hundredths_or_three_figures_whichever_is_finer_and_about_only_where_it_was_rounded(value, said):
    assert about(Quantity(value, "gal")) == said


def test_in_spanish_it_says_so_too():
    with override("es"):
        assert about(Quantity("0.623594", "gal")) == "aprox. 0.624 gal"
