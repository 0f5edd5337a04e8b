"""The register finds and sorts whatever the accents, also what was found by exact ones before."""

from dataclasses import replace
from importlib import import_module
from types import SimpleNamespace

import pytest
from django.apps import apps
from django.db import connection
from django.urls import reverse

from records.document.reader import read
from records.models import RegisterTerm, Treatment, TreatmentTerm
from records.register.fitting import fits
from records.register.orders import ORDERS
from records.register.wanted import RegisterFilter
from records.register_search import treatments_of
from records.services.planning import plan_treatment
from records.services.projection import project
from shared.folded import folded
from tests.factories import MembershipFactory
from tests.records.test_register_search import EXAMPLE, held

NAMES = ("Ana García", "ANA GARCIA", "Luis Villaseñor", "Ángel Øster", "Zoe Lark")
ASKED = [
    ({"customer": "garcia"}, {0, 1}),
    ({"customer": "García ana"}, {0, 1}),
    ({"customer": "VILLASENOR"}, {2}),
    ({"customer": "villasen\u0303or"}, {2}),
    ({"customer": "angel øster"}, {3}),
    ({"customer": "oster"}, set()),
    ({"customer": "´"}, set()),
    ({"site": "casa angel"}, {2}),
    ({"words": "villaseñor moss"}, {2, 3}),
    ({"county": "dona ana"}, {0, 2, 4}),
    ({"county": "DOÑA", "customer": "garcía"}, {0}),
    ({"place": "ús-wá"}, {0, 1, 2, 3, 4}),
]


def written(treatment: Treatment, number: int) -> Treatment:
    county = "Doña Ana County" if number % 2 == 0 else "Quill County"
    site = {**EXAMPLE["site"], "name": f"Casa {NAMES[-number]}", "county": county}
    project(treatment, read({**EXAMPLE, "customer": {"name": NAMES[number]}, "site": site}))
    return treatment


@pytest.fixture
def named(firm, member, plan) -> list[Treatment]:
    return [written(plan_treatment(firm, member.user, plan), number) for number in range(len(NAMES))]


@pytest.mark.parametrize(("asked", "found"), ASKED)
def test_who_types_accents_and_who_types_none_find_the_same_and_so_do_requests(firm, named, asked, found):
    wanted = RegisterFilter(**asked)
    assert {named.index(each) for each in treatments_of(firm, wanted)} == found
    assert {number for number, each in enumerate(named) if fits(held(each), wanted)} == found


def test_every_term_is_found_by_its_own_text(firm, named):
    boxes = ("customer", "site", "county", "product", "ingredient", "applicator", "licence", "registration")
    terms = RegisterTerm.objects.for_firm(firm).filter(kind__in=boxes)
    assert terms.count() > len(NAMES)
    for term in terms:
        found = treatments_of(firm, RegisterFilter(**{term.kind: term.written}))
        theirs = TreatmentTerm.objects.for_firm(firm).filter(term=term).values_list("treatment", flat=True)
        assert set(theirs) <= {each.pk for each in found}, term


def test_customers_stand_by_the_letter_that_is_under_the_accent(firm, named):
    found = treatments_of(firm, order=ORDERS["customer"])
    assert [each.customer_name for each in found][-3:] == ["Ángel Øster", "Luis Villaseñor", "Zoe Lark"]


def test_a_saved_view_and_the_api_find_the_same(client, firm, member, named):
    client.force_login(member.user)
    client.post(f"{reverse('save_view')}?customer=garcia", {"name": "Garcías"})
    ((_view, address, _removable),) = client.get(reverse("saved_views")).context["rows"]
    assert {named.index(each) for each in client.get(address).context["treatments"]} == {0, 1}
    told = client.get(reverse("api_treatments"), {"customer": "villasenor"}).json()["items"]
    assert [each["id"] for each in told] == [str(named[2].pk)]


def kept(firm) -> set:
    links = TreatmentTerm.objects.for_firm(firm)
    return set(links.values_list("treatment", "term__kind", "term__folded", "day", "firm"))


def keys(firm) -> list:
    return list(Treatment.objects.for_firm(firm).order_by("pk").values_list("customer_key", "site_key"))


def as_before(firm) -> None:
    """Each treatment's terms and keys folded by case and spaces alone, as they were kept once."""
    rows = TreatmentTerm.objects.for_firm(firm).select_related("term", "treatment")
    own = {}
    for link in rows.order_by("pk"):
        about = {"kind": link.term.kind, "folded": folded(_own(link))}
        name = (link.treatment_id, *about.values())
        term, _made = RegisterTerm.objects.for_firm(firm).get_or_create(
            **about, defaults={"firm": firm, "written": _own(link)}
        )
        own[name] = TreatmentTerm(firm=firm, term=term, treatment=link.treatment, day=link.day)
    rows.all().delete()
    TreatmentTerm.objects.bulk_create(own.values())
    unused = RegisterTerm.objects.for_firm(firm).filter(found=None)
    unused.delete()
    for treatment in Treatment.objects.for_firm(firm):
        was = {"customer_key": folded(treatment.customer_name), "site_key": folded(treatment.site_name)}
        Treatment.objects.for_firm(firm).filter(pk=treatment.pk).update(**was)


def _own(link: TreatmentTerm) -> str:
    return link.treatment.customer_name if link.term.kind == "customer" else link.term.written


def fold() -> None:
    migration = import_module("records.migrations.0042_terms_without_accents")
    migration.fold(apps, SimpleNamespace(connection=connection))


@pytest.mark.parametrize("at_once", [1, 3, 500])
def test_rows_from_before_are_folded_anew_and_terms_that_become_one_are_one(
    firm, named, stranger, plan, monkeypatch, at_once
):
    theirs = MembershipFactory(firm=stranger.firm, role="manager")
    before, sorted_by = kept(firm), keys(firm)
    as_before(firm)
    RegisterTerm.objects.create(firm=theirs.firm, kind="customer", folded="ana garcía", written="Ana García")
    customers = RegisterTerm.objects.for_firm(firm).filter(kind="customer")
    assert {"ana garcía", "ana garcia"} <= set(customers.values_list("folded", flat=True))
    assert kept(firm) != before
    assert keys(firm) != sorted_by
    monkeypatch.setattr("records.migrations.0042_terms_without_accents.AT_ONCE", at_once)
    fold()
    assert kept(firm) == before
    assert keys(firm) == sorted_by
    assert not RegisterTerm.objects.for_firm(firm).filter(found=None).exists()
    assert RegisterTerm.objects.for_firm(theirs.firm).get().folded == "ana garcia"
    for asked, found in ASKED:
        assert {named.index(each) for each in treatments_of(firm, RegisterFilter(**asked))} == found


def test_a_treatment_that_was_found_by_both_spellings_is_found_once(firm, named):
    both = RegisterTerm.objects.create(firm=firm, kind="customer", folded="ana garcía", written="Ana García")
    third = RegisterTerm.objects.create(firm=firm, kind="customer", folded="ana garcìa", written="Ana Garcìa")
    for term in (both, third):
        for treatment in named[:3]:
            TreatmentTerm.objects.create(firm=firm, term=term, treatment=treatment, day=treatment.day)
    fold()
    (term,) = RegisterTerm.objects.for_firm(firm).filter(kind="customer", folded__startswith="ana")
    links = TreatmentTerm.objects.for_firm(firm).filter(term=term)
    assert sorted(links.values_list("treatment", flat=True)) == sorted(each.pk for each in named[:3])


def test_where_nothing_has_accents_nothing_is_written(firm, member, plan, django_assert_num_queries):
    plan_treatment(firm, member.user, replace(plan, targets=["moss"]))
    with django_assert_num_queries(3):
        fold()
