"""The pages of the shelf: what is typed becomes an entry, what differs is said, a recall names whom to call."""

import csv
from datetime import date
from io import StringIO

import pytest
from django.urls import reverse

from records.models import AuditEntry, Lot, StockMove, Treatment
from records.recall import folded, recall
from records.services.planning import plan_treatment
from records.stock import all_lots, one_lot
from shared.quantities import Quantity
from tests.factories import BatchFactory, LotFactory, MembershipFactory, StockMoveFactory


@pytest.fixture
def lot(plan) -> Lot:
    return plan.products[0].lot


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    return client


def typed(**more):
    said = {"told": "once", "kind": "disposal", "amount_0": "0.5", "amount_1": "gal", "on": "2026-09-14"}
    return {**said, "when": "after", "why": "a can leaked", **more}


def at(name, lot, **more):
    return reverse(name, kwargs={"lot": lot.pk, **more})


def text(answer) -> str:
    return answer.content.decode()


def test_what_is_typed_of_a_lot_stands_in_its_ledger_once(manager, firm, lot):
    for _ in range(2):
        assert manager.post(at("stock_lot", lot), typed()).status_code == 302
    page = text(manager.get(at("stock_lot", lot)))
    assert "a can leaked" in page
    assert "4.5 gal" in page
    assert StockMove.objects.for_firm(firm).count() == 1


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"why": ""}, "Say where it went or why."),
        ({"amount_0": "0"}, "Nothing is nothing to write down."),
        ({"on": "2099-01-01"}, "This day is still to come."),
        ({"amount_0": "1 ft"}, "expected a volume or a weight, got 1 ft"),
        ({"kind": "explained"}, "Select a valid choice."),
    ],
)
def test_what_can_t_be_is_not_written_down(manager, firm, lot, more, sentence):
    answer = manager.post(at("stock_lot", lot), typed(**more))
    assert answer.status_code == 422
    assert sentence in text(answer)
    assert not StockMove.objects.for_firm(firm).exists()


def test_a_form_that_is_sent_again_with_another_amount_says_what_it_wrote_and_adds_it_when_sent_once_more(
    manager, firm, lot
):
    manager.post(at("stock_lot", lot), typed(kind="count", amount_0="3"))
    answer = manager.post(at("stock_lot", lot), typed(kind="count", amount_0="9"))
    assert answer.status_code == 422
    assert "This form has written down: Count, 3 gal." in text(answer)
    assert 'value="9"' in text(answer)
    assert StockMove.objects.for_firm(firm).count() == 1
    again = typed(kind="count", amount_0="9", told=answer.context["form"]["told"].value())
    assert manager.post(at("stock_lot", lot), again).status_code == 302
    assert StockMove.objects.for_firm(firm).count() == 2
    delivery = typed(label=lot.label_id, number="L-0777", amount_0="2.5")
    assert manager.post(reverse("stock_delivery"), delivery).status_code == 422


def test_a_count_before_the_work_is_kept_as_such_and_may_be_nothing(manager, firm, lot):
    manager.post(at("stock_lot", lot), typed(kind="count", amount_0="0", when="before", why=""))
    (count,) = StockMove.objects.for_firm(firm)
    assert "Count before the day&#x27;s work" in text(manager.get(at("stock_lot", lot)))
    assert (count.early, count.amount) == (True, Quantity("0", "gal"))


def test_a_delivery_of_a_new_lot_leads_to_its_page(manager, firm, lot):
    sent = typed(label=lot.label_id, number="L-0777", amount_0="2.5")
    answer = manager.post(reverse("stock_delivery"), sent, follow=True)
    assert "L-0777" in text(answer)
    assert one_lot(all_lots(firm).get(number="L-0777")).on_hand == Quantity("2.5", "gal")


def test_a_label_of_another_firm_can_t_be_delivered(manager, firm, stranger):
    other = LotFactory(firm=stranger.firm)
    answer = manager.post(reverse("stock_delivery"), typed(label=other.label_id, number="L-0777"))
    assert answer.status_code == 422
    assert not StockMove.objects.for_firm(stranger.firm).exists()


def test_what_does_not_add_up_stands_first_until_it_is_explained(manager, colleague, lot):
    count = StockMoveFactory(lot=lot, amount="4 gal", by=colleague.user)
    assert "1 gal less than there should be" in text(manager.get(reverse("stock")))
    where = at("stock_explain", lot, move=count.pk)
    form = manager.get(where).context["form"]
    assert manager.post(where, {"off": form.initial["off"], "why": ""}).status_code == 422
    manager.post(where, {"off": form.initial["off"], "why": "a can was given to the fire brigade"})
    assert "This does not add up" not in text(manager.get(reverse("stock")))
    assert "a can was given to the fire brigade" in text(manager.get(at("stock_lot", lot)))


def test_a_difference_that_is_another_by_now_is_looked_at_again(manager, colleague, lot, firm):
    count = StockMoveFactory(lot=lot, amount="4 gal", by=colleague.user)
    where = at("stock_explain", lot, move=count.pk)
    answer = manager.post(where, {"off": "-1/2", "why": "spilled"}, follow=True)
    assert "Meanwhile it is otherwise" in text(answer)
    assert not StockMove.objects.for_firm(firm).filter(kind="explained").exists()


def test_the_office_keeps_the_shelf_and_explains_no_difference(client, firm, lot, colleague):
    office = MembershipFactory(firm=firm, role="office")
    client.force_login(office.user)
    count = StockMoveFactory(lot=lot, amount="4 gal", by=colleague.user)
    assert client.get(at("stock_lot", lot)).status_code == 200
    assert client.get(at("stock_explain", lot, move=count.pk)).status_code == 403
    assert client.post(at("stock_take_back", lot, move=count.pk), {"why": "misread"}).status_code == 302
    assert one_lot(lot).on_hand == Quantity("5", "gal")


def test_crew_see_no_stock_pages(client, member, lot):
    client.force_login(member.user)
    for where in (reverse("stock"), reverse("stock_delivery"), at("stock_lot", lot), at("stock_recall", lot)):
        assert client.get(where).status_code == 403


def test_an_entry_of_another_lot_is_not_there(manager, colleague, lot):
    other = StockMoveFactory(lot=LotFactory(firm=lot.firm), by=colleague.user)
    assert manager.get(at("stock_take_back", lot, move=other.pk)).status_code == 404


def test_a_lot_in_signed_records_that_nobody_entered_is_said(manager, firm, draft):
    Treatment.objects.for_firm(firm).filter(pk=draft.pk).update(state="signed")
    draft.product_lines.update(lot="L-0475")
    page = text(manager.get(reverse("stock")))
    assert "In signed records, and on no shelf" in page
    assert "L-0475" in page


def test_a_recall_names_every_treatment_of_the_lot_however_it_was_written(firm, plan, lot, member):
    first, second, third = (plan_treatment(firm, member.user, plan) for _ in range(3))
    second.product_lines.update(lot="l 0457")
    third.product_lines.update(lot="L-0458")
    LotFactory(firm=firm, label__product__name="Sample Lichen Wash")
    fourth = plan_treatment(firm, member.user, plan)
    fourth.product_lines.update(name="Sample Lichen Wash")
    BatchFactory(firm=firm)
    found = recall(firm, one_lot(lot))
    assert {went.treatment for went in found.treatments} == {first, second}
    assert [went.treatment for went in found.others] == [fourth]
    assert len(found.tanks) == 1
    assert (folded("L-0457"), folded("--")) == ("l0457", "--")


def test_the_file_of_a_recall_has_whom_to_call_and_no_live_formula(manager, firm, draft, lot):
    draft.site.customer.phone = "=1+1"
    draft.site.customer.save()
    answer = manager.get(at("stock_recall_file", lot))
    names, row = csv.reader(StringIO(answer.getvalue().decode("utf-8-sig")))
    said = dict(zip(names, row, strict=True))
    assert (said["number"], said["customer"]) == (draft.number, "A. Marlowe")
    assert (said["planned"], said["mixed"]) == ("1.5 gal", "")
    assert said["phone"] == "'=1+1"
    assert AuditEntry.objects.for_firm(firm).filter(kind="exported", thing="records.lot").count() == 1


def test_what_can_still_be_stopped_stands_apart_from_where_the_lot_went(manager, firm, plan, lot, member):
    planned, begun = (plan_treatment(firm, member.user, plan) for _ in range(2))
    begun.document["timing"]["started_at"] = begun.document["timing"]["planned_at"]
    begun.save(update_fields=["document"])
    found = recall(firm, one_lot(lot))
    assert [each.treatment for each in found.planned] == [planned]
    assert [each.treatment for each in found.went] == [begun]
    page = text(manager.get(at("stock_recall", lot)))
    stop, went = page.index("Stop this one"), page.index("One treatment</h2>")
    assert stop < page.index(planned.number) < went < page.index(begun.number)
    assert page.count("mixed 1.5 gal") == 1


def test_whose_name_was_erased_is_not_named_by_a_recall(manager, firm, draft, lot):
    Treatment.objects.for_firm(firm).filter(pk=draft.pk).update(customer_name="", site_name="")
    answer = manager.get(at("stock_recall", lot))
    assert draft.number in text(answer)
    assert "marlowe@example.net" not in text(answer)


def test_the_ledger_as_a_file_holds_what_was_taken_back(manager, lot, colleague):
    wrong = StockMoveFactory(lot=lot, kind="disposal", amount="9 gal", on=date(2026, 9, 1), by=colleague.user)
    manager.post(at("stock_take_back", lot, move=wrong.pk), {"why": "misread"})
    StockMoveFactory(lot=lot, kind="disposal", amount="6 gal", on=date(2026, 9, 2), by=colleague.user)
    answer = manager.get(at("stock_ledger", lot))
    _names, *rows = csv.reader(StringIO(answer.getvalue().decode("utf-8-sig")))
    assert [row[2:4] for row in rows] == [
        ["5 gal", "5 gal"],
        ["9 gal", ""],
        ["6 gal", "1 gal more than there was"],
    ]
    assert rows[1][-1] == "misread"


def test_who_looks_where_a_lot_went_sets_it_aside_with_a_word(manager, lot):
    where = at("stock_recall", lot)
    assert manager.post(where, {"why": ""}).status_code == 422
    for _ in range(2):
        assert "recalled by the maker" in text(
            manager.post(where, {"why": "recalled by the maker"}, follow=True)
        )
    assert "Set aside, not to be used" in text(manager.get(at("stock_lot", lot)))
    assert lot.number not in text(manager.get(reverse("tanks")))
    (aside,) = StockMove.objects.for_firm(lot.firm)
    manager.post(at("stock_take_back", lot, move=aside.pk), {"why": "it was another lot"})
    assert lot.number in text(manager.get(reverse("tanks")))


def test_what_is_left_is_rounded_on_the_shelf_and_stands_exactly_in_the_ledger(manager, lot, colleague):
    StockMoveFactory(lot=lot, kind="disposal", amount="0.3764 gal", on=date(2026, 9, 1), by=colleague.user)
    assert "about 4.62 gal" in text(manager.get(reverse("stock")))
    page = text(manager.get(at("stock_lot", lot)))
    assert "about 4.62 gal" in page
    assert "then: 4.6236 gal" in page
    answer = manager.get(at("stock_ledger", lot))
    _names, *rows = csv.reader(StringIO(answer.getvalue().decode("utf-8-sig")))
    assert [row[2:4] for row in rows] == [["5 gal", "5 gal"], ["0.3764 gal", "4.6236 gal"]]
