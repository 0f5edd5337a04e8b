"""Stock entries: written once, never changed, taken back or explained by another."""

from datetime import date

import pytest
from django.core.exceptions import PermissionDenied, ValidationError
from django.db import DatabaseError, IntegrityError, transaction

from records.models import AuditEntry, Lot, StockMove
from records.services.stock import (
    Move,
    NotNowError,
    ToldOtherwiseError,
    explain,
    line_of,
    move_stock,
    set_aside,
    take_back,
    take_delivery,
)
from records.stock import differences, lots_in_use, lots_of, one_lot
from shared.orm.append_only import AppendOnlyError
from shared.quantities import Quantity
from tests.factories import LotFactory, MembershipFactory

DAY = date(2026, 9, 14)


@pytest.fixture
def lot(firm) -> Lot:
    return LotFactory(firm=firm, number="L-0457")


def move(kind="disposal", amount="1", told="once", **more):
    said = {"on": DAY, "why": "spilled", **more}
    return Move(told=told, kind=kind, amount=Quantity(amount, "gal"), **said)


def moves(firm):
    return StockMove.objects.for_firm(firm)


def test_what_is_told_twice_is_one_entry_with_who_what_and_why(firm, lot, colleague):
    made = move_stock(lot, colleague.user, move(why="a can leaked"))
    assert move_stock(lot, colleague.user, move(why="a can leaked")) == made
    (kept,) = moves(firm)
    assert (kept.by, kept.why, kept.amount, kept.lot) == (
        colleague.user,
        "a can leaked",
        Quantity("1", "gal"),
        lot,
    )
    entry = AuditEntry.objects.for_firm(firm).get(thing="records.stockmove")
    assert (entry.kind, entry.reason, entry.by_id) == ("created", "a can leaked", colleague.user.pk)


def test_something_else_told_by_the_same_id_is_never_taken_for_it(firm, lot, colleague):
    made = move_stock(lot, colleague.user, move())
    other, office = LotFactory(firm=firm), MembershipFactory(firm=firm, role="office").user
    for of, by, told in (
        (lot, colleague.user, move(amount="2")),
        (lot, colleague.user, move("count")),
        (lot, colleague.user, move(on=date(2026, 9, 13))),
        (lot, colleague.user, move(why="a can leaked")),
        (other, colleague.user, move()),
        (lot, office, move()),
    ):
        with pytest.raises(ToldOtherwiseError) as refused:
            move_stock(of, by, told)
        assert refused.value.there == made
    with pytest.raises(ToldOtherwiseError):
        take_delivery(lot.label, "L-0501", colleague.user, move("purchase"))
    assert not Lot.objects.for_firm(firm).filter(number="L-0501").exists()
    assert moves(firm).get() == made


@pytest.mark.parametrize(
    ("said", "about"),
    [
        ({"on": date(2099, 1, 1)}, "on"),
        ({"why": " "}, "why"),
        ({"kind": "purchase", "amount": "0"}, "amount"),
    ],
)
def test_what_can_t_be_is_refused_whoever_says_it(firm, lot, colleague, said, about):
    with pytest.raises(ValidationError) as refused:
        move_stock(lot, colleague.user, move(**said))
    assert list(refused.value.message_dict) == [about]
    assert not moves(firm).exists()


def test_an_entry_is_neither_changed_nor_removed(firm, lot, colleague):
    made = move_stock(lot, colleague.user, move())
    for deed in (made.save, made.delete):
        with pytest.raises(AppendOnlyError):
            deed()
    with pytest.raises(DatabaseError), transaction.atomic():
        moves(firm).update(why="nothing happened")
    assert moves(firm).get().why == "spilled"


def test_crew_and_strangers_write_nothing(lot, member, stranger):
    for user in (member.user, stranger.user):
        with pytest.raises(PermissionDenied):
            move_stock(lot, user, move())


def test_a_delivery_of_a_lot_that_is_not_there_yet_puts_it_on_the_shelf(firm, lot, colleague):
    made = take_delivery(lot.label, "L-0500", colleague.user, move("purchase", "2.5", why="Sample Supply"))
    assert (made.lot.number, made.lot.received_on) == ("L-0500", DAY)
    assert one_lot(made.lot).on_hand == Quantity("2.5", "gal")
    take_delivery(lot.label, "L-0457", colleague.user, move("purchase", "2.5", told="again"))
    assert one_lot(lot).on_hand == Quantity("7.5", "gal")


def test_a_wrong_entry_is_taken_back_once_and_both_stay(firm, lot, colleague):
    wrong = move_stock(lot, colleague.user, move())
    take_back(wrong, colleague.user, "it was another lot")
    assert one_lot(lot).on_hand == Quantity("5", "gal")
    for again in (wrong, moves(firm).get(kind="taken-back")):
        with pytest.raises(NotNowError):
            take_back(again, colleague.user, "once more")
    assert moves(firm).count() == 2


def test_a_difference_is_explained_by_a_manager_who_saw_it_as_it_is(firm, lot, colleague):
    count = move_stock(lot, colleague.user, move("count", "4"))
    off = str(line_of(count).off)
    with pytest.raises(NotNowError):
        explain(count, "-1/1000", colleague.user, "a can leaked")
    with pytest.raises(PermissionDenied):
        explain(count, off, MembershipFactory(firm=firm, role="office").user, "a can leaked")
    explain(count, off, colleague.user, "a can leaked")
    assert differences(firm) == []


def test_a_count_that_fits_has_nothing_to_explain(lot, colleague):
    count = move_stock(lot, colleague.user, move("count", "5"))
    with pytest.raises(NotNowError):
        explain(count, "0", colleague.user, "it fits")


def test_an_entry_without_amount_and_one_of_another_firm_are_refused(lot, colleague, stranger):
    for kind, amount in (("count", None), ("taken-back", Quantity("1", "gal"))):
        with pytest.raises(IntegrityError), transaction.atomic():
            StockMove.objects.create(lot=lot, kind=kind, amount=amount, on=DAY, by=colleague.user)
    other = LotFactory(firm=stranger.firm)
    with pytest.raises(ValidationError):
        StockMove.objects.create(
            firm=lot.firm, lot=other, kind="count", amount="1 gal", on=DAY, by=colleague.user
        )


def test_a_lot_that_is_set_aside_is_offered_to_nobody_until_it_may_be_used_again(firm, lot, colleague):
    aside = set_aside(lot, colleague.user, DAY, "recalled by the maker")
    assert (list(lots_of(firm, lot.label.product_id, None, "en")), list(lots_in_use(firm))) == ([], [])
    assert one_lot(lot).on_hand == Quantity("5", "gal")
    with pytest.raises(NotNowError):
        set_aside(lot, colleague.user, DAY, "once more")
    take_back(aside, colleague.user, "it was another lot")
    assert list(lots_in_use(firm)) == [lot]
    assert list(lots_of(firm, lot.label.product_id, None, "en")) == [("L-0457", "5 gal")]
    set_aside(lot, colleague.user, DAY, "it was this lot")
    assert list(lots_in_use(firm)) == []
