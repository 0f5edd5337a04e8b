"""What is on hand is what was received less what signed treatments mixed."""

from datetime import date

import pytest

from compliance.services.signing import prepare, sign_treatment
from records.document.reader import read
from records.models import Lot, Treatment
from records.reference import filled
from records.services.corrections import start_correction
from records.services.planning import plan_treatment
from records.services.projection import project
from records.services.to_sign import Signer
from records.stock import all_lots, differences, lots_of, one_lot, shelf, stock_before
from shared.quantities import Quantity
from tests.factories import PASSWORD, BatchFactory, LabelVersionFactory, LotFactory, StockMoveFactory


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


def signed(plan, by, **columns):
    """A treatment of the plan as if it were signed, which mixed 1.5 gal."""
    treatment = plan_treatment(plan.site.firm, by, plan)
    Treatment.objects.for_firm(treatment.firm).filter(pk=treatment.pk).update(state="signed", **columns)
    return treatment


def the_lot(firm):
    return one_lot(all_lots(firm).get(number="L-0457"))


def test_deliveries_disposals_and_returns_count_on_their_day(firm, plan, colleague):
    lot, by = plan.products[0].lot, colleague.user
    for kind, amount, day in (("purchase", "2.5 gal", 1), ("disposal", "0.25 gal", 2), ("return", "1 gal", 20)):
        StockMoveFactory(lot=lot, kind=kind, amount=amount, on=date(2026, 9, day), by=by)
    treatment = signed(plan, by)
    # 5 + 2.5 - 0.25 - 1 - 1.5
    assert the_lot(firm).on_hand == Quantity("4.75", "gal")
    # at the end of its day, the 14th, without what it takes
    assert stock_before(treatment) == [{"lot": "L-0457", "on_hand": {"value": "7.25", "unit": "gal"}}]


def test_what_is_used_after_a_count_is_taken_off_what_was_counted(firm, plan, colleague):
    lot, by = plan.products[0].lot, colleague.user
    signed(plan, by)
    StockMoveFactory(lot=lot, kind="count", amount="3.4 gal", on=date(2026, 9, 14), by=by)
    signed(plan, by, day=date(2026, 9, 15))
    assert the_lot(firm).on_hand == Quantity("1.9", "gal")


def test_a_count_beyond_the_firms_share_is_a_difference_until_it_is_explained(firm, plan, colleague):
    lot, by = plan.products[0].lot, colleague.user
    signed(plan, by)
    count = StockMoveFactory(lot=lot, kind="count", amount="3.3 gal", on=date(2026, 9, 20), by=by)
    (found,) = differences(firm)
    assert (found.by, found.is_short, found.day) == (Quantity("0.2", "gal"), True, date(2026, 9, 20))
    firm.stock_share = 6
    firm.save()
    assert differences(firm) == []
    firm.stock_share = 5
    firm.save()
    off = str(found.count.off)
    StockMoveFactory(
        lot=lot, kind="explained", amount=None, of=count, off=off, on=count.on, why="spilled", by=by
    )
    assert differences(firm) == []
    late = signed(plan, by)
    assert [each.by for each in differences(firm)] == [Quantity("1.3", "gal")]
    Treatment.objects.for_firm(firm).filter(pk=late.pk).update(state="void")
    assert differences(firm) == []


def test_more_mixed_than_was_received_is_a_difference_without_any_count(firm, plan, colleague):
    for _ in range(4):
        signed(plan, colleague.user)
    (found,) = differences(firm)
    assert (found.count, found.by, found.is_short) == (None, Quantity("1", "gal"), True)


def test_of_a_lot_that_came_with_a_delivery_nothing_was_there_before(firm, plan, colleague):
    """1.5 gal mixed on the 14th, 2 gal delivered on the 20th."""
    lot, by = plan.products[0].lot, colleague.user
    signed(plan, by)
    Lot.objects.for_firm(firm).update(amount=None, received_on=date(2026, 9, 20))
    StockMoveFactory(lot=lot, kind="purchase", amount="2 gal", on=date(2026, 9, 20), by=by)
    (found,) = differences(firm)
    assert (found.day, found.by, found.is_short) == (date(2026, 9, 14), Quantity("1.5", "gal"), True)
    assert the_lot(firm).on_hand == Quantity("0.5", "gal")
    Lot.objects.for_firm(firm).update(received_on=date(2026, 9, 1))  # and nobody wrote down how much
    assert differences(firm) == []
    assert the_lot(firm).on_hand == Quantity("2", "gal")


def test_what_is_taken_back_counts_no_more(firm, plan, colleague):
    lot, by = plan.products[0].lot, colleague.user
    wrong = StockMoveFactory(lot=lot, kind="disposal", amount="3 gal", on=date(2026, 9, 2), by=by)
    StockMoveFactory(lot=lot, kind="taken-back", amount=None, of=wrong, on=wrong.on, by=by)
    assert the_lot(firm).on_hand == Quantity("5", "gal")


def test_a_tank_takes_its_product_off_the_shelf_once_whoever_draws_from_it(firm, plan, colleague):
    """3 gal in a tank of 30 gal; a treatment that is signed drew half of it, another is about to."""
    batch = BatchFactory(firm=firm)
    assert the_lot(firm).on_hand == Quantity("2", "gal")
    load = [{"batch": str(batch.pk), "volume": {"value": "15", "unit": "gal"}}]
    first, second = (plan_treatment(firm, colleague.user, plan) for _ in range(2))
    for each in (first, second):
        each.document["mixes"][0]["loads"] = load
        each.save()
    Treatment.objects.for_firm(firm).filter(pk=first.pk).update(state="signed")
    assert the_lot(firm).on_hand == Quantity("2", "gal")
    assert stock_before(second) == [{"lot": "L-0457", "on_hand": {"value": "3.5", "unit": "gal"}}]


def test_of_a_record_that_is_being_corrected_what_was_signed_counts(firm, plan, colleague, member):
    batch = BatchFactory(firm=firm)
    draft = plan_treatment(firm, member.user, plan)
    draft.document["mixes"][0]["loads"] = [{"batch": str(batch.pk), "volume": {"value": "15", "unit": "gal"}}]
    draft.save()
    findings = prepare(draft, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(draft, member.user, PASSWORD, answers)
    draft.refresh_from_db()
    start_correction(draft, colleague.user, "the tank was another")
    draft.refresh_from_db()
    del draft.document["mixes"][0]["loads"]
    draft.save()
    assert the_lot(firm).on_hand == Quantity("2", "gal")


def test_two_rows_of_a_product_with_one_number_are_one_lot(firm, plan, colleague):
    newer = LabelVersionFactory(firm=firm, product=plan.products[0].product, version="2026-01")
    LotFactory(firm=firm, label=newer, number="L-0457", amount="2 gal", received_on=date(2026, 8, 1))
    signed(plan, colleague.user)
    (only,) = shelf(firm)
    assert (only.on_hand, only.lot.label) == (Quantity("5.5", "gal"), newer)


def test_a_product_that_is_called_otherwise_now_is_known_by_its_number(firm, plan, colleague):
    signed(plan, colleague.user)
    product = plan.products[0].product
    product.name = "Sample Moss Wash Plus"
    product.save()
    assert one_lot(plan.products[0].lot).on_hand == Quantity("3.5", "gal")
    other = LotFactory(firm=firm, label__product__name="Sample Moss Wash", number="L-0457")
    assert [each.on_hand for each in shelf(firm)] == [Quantity("3.5", "gal"), Quantity("5", "gal")]
    assert other.label.registration_number != plan.products[0].lot.label.registration_number


def test_weight_and_volume_without_a_density_are_told_to_be_unknown(firm, plan, colleague):
    lot = plan.products[0].lot
    StockMoveFactory(lot=lot, kind="disposal", amount="8.9 lb", on=date(2026, 9, 2), by=colleague.user)
    assert the_lot(firm).on_hand == Quantity("4", "gal")
    lot.label.density = None
    lot.label.save()
    unknown = the_lot(firm)
    assert (unknown.on_hand, unknown.does_not_meet) == (None, True)
    assert list(lots_of(firm, lot.label.product_id, None, "en")) == [("L-0457", "")]
    assert differences(firm) == []


def test_of_another_firm_nothing_counts(firm, plan, colleague, stranger):
    other = LotFactory(firm=stranger.firm, number="L-0457", label__product__name="Sample Moss Wash")
    StockMoveFactory(lot=other, kind="disposal", amount="1 gal", on=date(2026, 9, 2), by=stranger.user)
    assert the_lot(firm).on_hand == Quantity("5", "gal")
    assert [each.on_hand for each in shelf(stranger.firm)] == [Quantity("4", "gal")]


@pytest.mark.parametrize(
    ("loads", "left"),
    [
        ([("15", True)], "5"),
        ([("5", True), ("10", False)], "4"),
        ([("15", False)], "3.5"),
        ([(None, True), (None, False)], "3.5"),
    ],
)
def test_what_was_left_over_from_an_earlier_treatment_is_not_taken_again(firm, plan, colleague, loads, left):
    """Of 1.5 gal in a mix of 15 gal, as much as its loads were drawn from no earlier record."""
    treatment = plan_treatment(firm, colleague.user, plan)
    treatment.document["mixes"][0]["loads"] = [
        filled(volume=volume and {"value": volume, "unit": "gal"}, from_record="2026-0001" if old else None)
        for volume, old in loads
    ]
    treatment.state = "signed"
    project(treatment, read(treatment.document))
    assert the_lot(firm).on_hand == Quantity(left, "gal")


def test_the_shelf_asks_as_much_of_the_database_for_many_lots_as_for_one(
    firm, plan, colleague, django_assert_num_queries
):
    for number in range(5):
        lot = LotFactory(firm=firm, label=plan.products[0].lot.label, number=f"M-{number}")
        StockMoveFactory(lot=lot, amount="4 gal", by=colleague.user)
    with django_assert_num_queries(5):
        assert len(differences(firm)) == 5


def test_what_was_mixed_and_what_was_applied_are_two_figures(firm, done):
    """1.5 gal in a mix of 15 gal, of which 14 gal were sprayed: 1.5 x 14 / 15 = 1.4 gal."""
    assert (the_lot(firm).mixed, the_lot(firm).applied) == ([], [])
    Treatment.objects.for_firm(firm).filter(pk=done.pk).update(state="signed")
    assert the_lot(firm).mixed == [Quantity("1.5", "gal")]
    assert the_lot(firm).applied == [Quantity("1.4", "gal")]
