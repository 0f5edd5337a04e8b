"""The register of a firm with a million treatments: right sums, and pages that are read along an index."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import islice
from uuid import UUID

import pytest
from django.db import connection
from django.db.models import Sum

from records.models import Firm, Treatment, TreatmentProduct
from records.register.wanted import RegisterFilter
from records.register_search import page_after, treatments_of
from shared.orm.quantities import projected
from shared.quantities import Quantity

pytestmark = pytest.mark.long

MANY = 1_000_000
A_DAY = 500
FIRST_DAY = date(2021, 1, 1)
BATCH = 5000


def rows(firm: Firm, like: Treatment) -> Iterator[Treatment]:
    """A million treatments, 500 each day, alternately 100 ft² and 10 m²."""
    areas = [projected(Quantity(*each).base) for each in (("100", "ft**2"), ("10", "m**2"))]
    for number in range(1, MANY + 1):
        yield Treatment(
            uuid=UUID(int=number),
            firm=firm,
            site=like.site,
            number=f"N-{number}",
            planned_at=like.planned_at,
            planned_by=like.planned_by,
            day=FIRST_DAY + timedelta(days=(number - 1) // A_DAY),
            treated_area=areas[number % 2],
            state="signed",
        )


@pytest.fixture
def million(firm, draft, stranger) -> Firm:
    draft.product_lines.all().delete()
    draft.delete()
    made = rows(firm, draft)
    while batch := list(islice(made, BATCH)):
        Treatment.across_firms.bulk_create(batch)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return firm


def test_a_million_treatments_are_added_up_and_paged_along_an_index(million, stranger):
    everything = treatments_of(million)
    assert everything.count() == MANY
    half = MANY // 2
    total = everything.order_by().aggregate(total=Sum("treated_area"))["total"]
    assert float(total) == pytest.approx(half * 10 + half * 9.290304, rel=1e-10)

    year = treatments_of(million, RegisterFilter(day_from=date(2022, 1, 1), day_to=date(2022, 12, 31)))
    assert year.count() == 365 * A_DAY

    deep = Treatment.objects.for_firm(million).get(pk=UUID(int=400_000))
    page = page_after(everything, deep)[:50]
    assert [row.uuid.int for row in page] == list(range(399_999, 399_949, -1))
    for query in (everything[:50], page, page_after(year, year[100])[:50]):
        plan = query.explain()
        assert "treatment_register" in plan, plan
        assert "TEMP B-TREE" not in plan, plan
        assert "Sort" not in plan, plan
    assert not treatments_of(stranger.firm).exists()
    assert not TreatmentProduct.objects.for_firm(stranger.firm).exists()
