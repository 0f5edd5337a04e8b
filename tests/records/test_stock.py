"""What is on hand is what was received less what signed treatments mixed."""

from records.models import Lot, Treatment
from records.services.planning import plan_treatment
from records.stock import lots_of, stock_before
from tests.factories import LotFactory


def test_a_draft_takes_nothing_from_the_shelf_and_what_is_signed_does(firm, member, plan):
    first = plan_treatment(firm, member.user, plan)
    second = plan_treatment(firm, member.user, plan)
    assert stock_before(second) == [{"lot": "L-0457", "on_hand": {"value": "5", "unit": "gal"}}]
    Treatment.objects.for_firm(firm).filter(pk=first.pk).update(state="signed")
    # 5 gal received, 1.5 gal mixed
    assert stock_before(second) == [{"lot": "L-0457", "on_hand": {"value": "3.5", "unit": "gal"}}]
    assert stock_before(first) == [{"lot": "L-0457", "on_hand": {"value": "5", "unit": "gal"}}]


def test_more_taken_than_received_leaves_nothing_on_hand(firm, member, plan):
    treatments = [plan_treatment(firm, member.user, plan) for _ in range(5)]
    Treatment.objects.for_firm(firm).exclude(pk=treatments[0].pk).update(state="corrected")
    assert stock_before(treatments[0]) == [{"lot": "L-0457", "on_hand": {"value": "0", "unit": "gal"}}]


def test_a_void_record_gives_its_product_back(firm, member, plan):
    first, second = (plan_treatment(firm, member.user, plan) for _ in range(2))
    Treatment.objects.for_firm(firm).filter(pk=first.pk).update(state="void")
    assert stock_before(second) == [{"lot": "L-0457", "on_hand": {"value": "5", "unit": "gal"}}]


def test_a_lot_whose_amount_nobody_wrote_down_is_unknown(firm, member, plan):
    Lot.objects.for_firm(firm).update(amount=None)
    assert stock_before(plan_treatment(firm, member.user, plan)) == []


def test_lots_with_something_left_are_offered_the_newest_first(firm, member, plan):
    product, label = plan.products[0].product, plan.products[0].lot.label
    LotFactory(firm=firm, label=label, number="L-0500", received_on="2026-08-01", amount=None)
    treatment = plan_treatment(firm, member.user, plan)
    assert list(lots_of(firm, product.pk, treatment, "en")) == [("L-0500", ""), ("L-0457", "5 gal")]
    Treatment.objects.for_firm(firm).filter(pk=treatment.pk).update(state="signed")
    Lot.objects.for_firm(firm).filter(number="L-0457").update(amount="1.5 gal")
    assert list(lots_of(firm, product.pk, None, "en")) == [("L-0500", "")]


def test_no_lot_of_another_product_or_firm_is_offered(firm, plan, stranger):
    other = LotFactory(firm=firm, label__product__name="Sample Lichen Wash").label.product
    assert [number for number, _left in lots_of(firm, plan.products[0].product.pk, None, "en")] == ["L-0457"]
    assert list(lots_of(stranger.firm, other.pk, None, "en")) == []
