"""The register's search: by each thing that a record can be asked for, in each order, at the same cost."""

import json
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection

from records import register_search
from records.document.edits import Edit
from records.document.reader import read
from records.models import RegisterTerm, Treatment, TreatmentTerm
from records.register.fitting import Held, fits, is_of_number, number_asked
from records.register.orders import NEWEST, ORDERS
from records.register.terms import Term
from records.register.wanted import RegisterFilter
from records.register_search import counted, found_in, page_after, treatments_of
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.projection import project, set_found, set_outcome
from shared.quantities import Quantity
from tests.factories import SiteFactory

EXAMPLE = json.loads((Path(__file__).resolve().parents[2] / "fixtures/documents/example.json").read_text())
WIND = EXAMPLE["weather"]["readings"][0]


def written(treatment: Treatment, number: int) -> Treatment:
    """The example as a treatment of its own: other names, a wind of as many mph, one more day each."""
    mph = {**WIND, "wind_speed": {"value": str(number), "unit": "mph"}}
    started = f"2026-09-{10 + number:02}T09:12:00-07:00"
    changes = {
        "customer": {"name": f"Customer {'zyxwvutsrq'[number] * 3}"},
        "site": {**EXAMPLE["site"], "name": f"House {number}", "county": f"County {number % 2}"},
        "timing": {"started_at": started},
        "weather": {"readings": [mph] if number else []},
        "incidents": [{"kind": "drift"}] if number == 3 else [],
    }
    project(treatment, read({**EXAMPLE, **changes}))
    return treatment


@pytest.fixture
def ten(firm, member, plan) -> list[Treatment]:
    return [written(plan_treatment(firm, member.user, plan), number) for number in range(10)]


@pytest.fixture
def few(monkeypatch):
    """How much counts as few and as listed, so that both ways to search are walked."""

    def set_to(rows: int, terms: int) -> None:
        monkeypatch.setattr("records.register_search.FEW", rows)
        monkeypatch.setattr("records.register_parts.MOST_TERMS", terms)

    return set_to


def indices(treatments, ten) -> list[int]:
    return [ten.index(each) for each in treatments]


ASKED = [
    ({"county": "county 1"}, {1, 3, 5, 7, 9}),
    ({"place": "us-wa"}, set(range(10))),
    ({"place": "us-w"}, set()),
    ({"customer": "customer zzz"}, {0}),
    ({"customer": "CUSTOMER"}, set(range(10))),
    ({"site": "heron row"}, set(range(10))),
    ({"site": "4 house"}, set(range(10))),
    ({"site": "house 7"}, {7}),
    ({"registration": "99999-12"}, set(range(10))),
    ({"registration": "88888"}, set()),
    ({"registration": "EPA Reg. No. 99999 - 12"}, set(range(10))),
    ({"product": "EPA Reg. No. 99999-12"}, set(range(10))),
    ({"words": "epa reg. no. 99999-12"}, set(range(10))),
    ({"product": "99999-12"}, set(range(10))),
    ({"registration": "99999"}, set(range(10))),
    ({"registration": "99999-1"}, set()),
    ({"product": "99999-1"}, set()),
    ({"words": "EPA 99999-1"}, set()),
    ({"ingredient": "invented"}, set(range(10))),
    ({"licence": "co-00231"}, set(range(10))),
    ({"applicator": "nobody"}, set()),
    ({"incident": "drift"}, {3}),
    ({"result": "treated"}, set(range(10))),
    ({"result": "stood-down"}, set()),
    ({"finding": "us-wa/wind"}, {4, 5}),
    ({"outcome": "not_met"}, {4}),
    ({"wind_least": Quantity("8", "mph")}, {8, 9}),
    ({"wind_most": Quantity("0.9", "m/s")}, {1, 2}),
    ({"wind_least": Quantity("3", "mph"), "wind_most": Quantity("4", "mph")}, {3, 4}),
    ({"words": "moss county"}, set(range(10))),
    ({"words": "customer qqq"}, {9}),
    ({"words": "us-wa/wind"}, set()),
    ({"words": "drift"}, set()),
    ({"county": "county 1", "wind_least": Quantity("4", "mph"), "day_to": date(2026, 9, 17)}, {5, 7}),
    ({"customer": "customer", "site": "house", "day_from": date(2026, 9, 18)}, {8, 9}),
]


@pytest.mark.parametrize("bounds", [(10_000, 200), (2, 200), (2, 1), (10_000, 1)])
def test_each_filter_finds_the_same_in_every_order_and_whichever_way_it_is_read(firm, ten, few, bounds):
    few(*bounds)
    set_outcome(ten[4], "not_met")
    set_found(ten[4], {"us-wa/wind"}, set(), None)
    set_found(ten[5], set(), {"us-wa/wind"}, None)
    for asked, found in ASKED:
        for order in ORDERS.values():
            expected = found - {0} if order.only_with else found
            treatments = treatments_of(firm, RegisterFilter(**asked), order=order)
            assert {*indices(treatments, ten)} == expected, (asked, order.name)
            to_count = found_in(firm, RegisterFilter(**asked), order=order).to_count
            assert counted(treatments) in (len(expected), None), (asked, order.name)
            assert counted(to_count) in (len(expected), None), (asked, order.name)


@pytest.mark.parametrize(
    ("written", "asked"),
    [
        ("EPA Reg. No. 99999-12", "99999-12"),
        ("99999-12-88888", "99999-12"),
        ("99999-12", "EPA Registration Number 99999-12"),
        ("MAPP 12345", "12345"),
    ],
)
def test_a_registration_number_is_found_however_it_was_written(written, asked):
    assert is_of_number(number_asked("registration", asked) or "", written)


def test_words_that_look_like_a_number_are_words():
    assert number_asked("words", "98000-1234") is None  # a postcode
    assert number_asked("words", "EPA roof") is None
    assert number_asked("registration", "none") is None
    assert number_asked("product", "moss wash 99999-12") is None


def test_what_fits_one_version_by_itself_is_what_the_search_finds(firm, ten):
    set_outcome(ten[4], "not_met")
    set_found(ten[4], {"us-wa/wind"}, set(), None)
    set_found(ten[5], set(), {"us-wa/wind"}, None)
    for asked, found in ASKED:
        fitting = {number for number, each in enumerate(ten) if fits(held(each), RegisterFilter(**asked))}
        assert fitting == found, asked
    assert fits(held(ten[6]), RegisterFilter(words=f" {ten[6].number} "))
    assert not fits(held(ten[5]), RegisterFilter(words=ten[6].number))


def held(treatment) -> Held:
    links = TreatmentTerm.objects.for_firm(treatment.firm).filter(treatment=treatment)
    of = {Term(*each) for each in links.values_list("term__kind", "term__folded", "term__written")}
    wind = None if treatment.strongest_wind is None else Fraction(treatment.strongest_wind)
    return Held(treatment.number, treatment.day, treatment.state, treatment.outcome, wind, of)


def test_a_number_is_found_by_itself_and_other_boxes_still_count(firm, ten):
    number = ten[6].number
    assert indices(treatments_of(firm, RegisterFilter(words=f" {number} ")), ten) == [6]
    assert not treatments_of(firm, RegisterFilter(words=number, county="county 1")).exists()
    assert counted(found_in(firm, RegisterFilter(words=number, customer="customer")).to_count) == 1


@pytest.mark.parametrize("asked", [{}, {"county": "county 1"}, {"site": "house"}])
@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_pages_follow_each_other_in_every_order_without_gap_or_repeat(firm, ten, order, asked):
    wanted = RegisterFilter(**asked)
    everything = list(treatments_of(firm, wanted, order=order))
    seen, last = [], None
    while page := list(page_after(treatments_of(firm, wanted, order=order), last, order)[:2]):
        seen += page
        last = page[-1]
    assert seen == everything
    assert len(seen) == len(set(seen)) > 3


def test_each_order_is_what_it_is_called(firm, ten):
    of = {name: indices(treatments_of(firm, order=order), ten) for name, order in ORDERS.items()}
    rising = list(range(10))
    assert of == {
        "newest": rising[::-1], "oldest": rising, "number": rising, "customer": rising[::-1],
        "site": rising, "wind": rising[:0:-1],
    }  # fmt: skip


def test_rows_alike_in_what_they_are_sorted_by_are_paged_too(firm, member, plan):
    same = [plan_treatment(firm, member.user, plan) for _ in range(5)]
    for order in (ORDERS["customer"], ORDERS["site"], NEWEST):
        seen, last = [], None
        while page := list(page_after(treatments_of(firm, order=order), last, order)[:1]):
            seen, last = seen + page, page[-1]
        assert sorted(seen, key=lambda each: each.number) == same


def test_of_what_has_one_term_the_links_are_counted_and_drafts_are_left_out_where_they_are_not_seen(firm, ten):
    wanted = RegisterFilter(county="county 1", day_from=date(2026, 9, 16))
    many = treatments_of(firm, wanted).count()
    assert found_in(firm, wanted).to_count.model is RegisterTerm
    assert found_in(firm, wanted).to_count.count() == many > 0
    assert found_in(firm, wanted, drafts=False).to_count.count() == 0


def test_of_few_the_count_comes_with_the_lines_however_much_is_asked_of_each(firm, ten, monkeypatch):
    asked = RegisterFilter(county="county 1", words="customer")
    found = found_in(firm, asked)
    assert (found.slow, found.few, found.count()) == (False, True, found.treatments.count())
    monkeypatch.setattr(register_search, "FEW", 0)
    assert (found_in(firm, asked).slow, found_in(firm, asked).few) == (True, False)


def test_more_than_the_count_goes_is_said_to_be_more(firm, ten):
    assert counted(treatments_of(firm), most=9) is None
    assert counted(treatments_of(firm), most=10) == 10


def test_a_draft_that_is_changed_is_found_by_what_it_says_now_on_its_new_day(firm, member, draft, plan):
    later = (plan.planned_at + timedelta(days=3)).isoformat()
    person = draft.document["people"][0]["id"]
    typed = {f"people[{person}].role": "helper", "timing.planned_at": later}
    edits = [Edit(path, path, value, draft.revision) for path, value in typed.items()]
    assert not edit_draft(draft, edits, member.user).unread
    assert not treatments_of(firm, RegisterFilter(applicator="osei")).exists()
    found = treatments_of(firm, RegisterFilter(customer="marlowe", day_from=date(2026, 9, 17)))
    assert list(found) == [draft]


def test_another_firms_terms_lead_to_nothing_of_ours(firm, ten, stranger, plan):
    theirs = replace(plan, site=SiteFactory(firm=stranger.firm, customer__name="Customer zzz"))
    other = replace(theirs, surfaces=[], people=[], products=[], rig=None)
    treatment = plan_treatment(stranger.firm, stranger.user, other)
    assert list(treatments_of(stranger.firm, RegisterFilter(customer="customer zzz"))) == [treatment]
    assert indices(treatments_of(firm, RegisterFilter(customer="customer zzz")), ten) == [0]


def test_a_term_is_kept_once_however_many_are_found_by_it(firm, ten):
    product = RegisterTerm.objects.for_firm(firm).filter(kind="product", folded="sample moss wash (99999-12)")
    assert TreatmentTerm.objects.for_firm(firm).filter(term=product.get()).count() == 10


def test_treatments_from_before_there_were_terms_are_found_like_others(firm, ten):
    def kept() -> set:
        links = TreatmentTerm.objects.for_firm(firm)
        return set(links.values_list("treatment", "term__kind", "term__folded", "term__written", "day"))

    of_draft = Treatment.objects.for_firm(firm).get(pk=ten[0].pk)
    of_draft.document = {**EXAMPLE, "record": {"result": "stood-down"}}
    of_draft.save()
    project(of_draft, read(of_draft.document))
    Treatment.objects.for_firm(firm).exclude(pk=of_draft.pk).update(document={})
    before, columns = kept(), ("site_key", "customer_key", "strongest_wind")
    values = Treatment.objects.for_firm(firm).filter(pk=of_draft.pk).values(*columns).get()
    RegisterTerm.objects.for_firm(firm).delete()
    Treatment.objects.for_firm(firm).update(site_key="", customer_key="", strongest_wind=None)
    migration = import_module("records.migrations.0027_fill_register_terms")
    migration.fill(apps, SimpleNamespace(connection=connection))
    assert kept() == {each for each in before if each[0] == of_draft.pk}
    assert Treatment.objects.for_firm(firm).filter(pk=of_draft.pk).values(*columns).get() == values
