"""Customers and sites are found by words, whatever their accents, in the lists of managers and of the crew."""

import pytest
from django.urls import reverse

from records import holding
from records.models import Customer, Site
from tests.factories import LabelVersionFactory, SiteFactory


@pytest.fixture
def sites(firm) -> list[Site]:
    lines = [("Casa Núñez", "Calle Peñón 4", "Ana García"), ("Shop", "9 Lark Street", "JOSE NUNEZ")]
    return [
        SiteFactory(firm=firm, name=name, line1=line1, city="Port Quill", customer__name=customer)
        for name, line1, customer in lines
    ]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("nunez", {0, 1}), ("NÚÑEZ", {0, 1}), ("garcia penon", {0}), ("lark núñez", {1}), ("", {0, 1}),
        (" ", {0, 1}), ("gull", set()), ("nunez%", set()), ("_", set()), ("´", set()),
    ],
)  # fmt: skip
def test_each_word_stands_somewhere_whatever_its_accents(firm, sites, stranger, words, found):
    SiteFactory(firm=stranger.firm, name="Casa Núñez")
    rows = holding.holding(Site.objects.for_firm(firm), words, ("name", "line1", "customer__name"))
    assert {sites.index(each) for each in rows} == found


def test_of_very_many_the_first_are_found(firm, sites, monkeypatch):
    monkeypatch.setattr(holding, "MOST_FOUND", 1)
    assert list(holding.holding(Site.objects.for_firm(firm), "nunez", ("name", "customer__name"))) == sites[:1]


@pytest.mark.parametrize("typed", ["nunez", "Núñez", "casa garcía"])
def test_the_site_of_a_plan_is_found(client, member, sites, typed):
    client.force_login(member.user)
    page = client.get(reverse("plan_site"), {"q": typed}).content.decode()
    assert sites[0].name in page


@pytest.mark.parametrize(
    ("typed", "many"), [("garcia", 1), ("GARCÍA ana", 1), ("nunez", 1), ("gull", 0), ("", 2)]
)
def test_a_manager_s_list_of_customers_is_searched_likewise(client, colleague, firm, sites, typed, many):
    client.force_login(colleague.user)
    page = client.get(reverse("admin:records_customer_changelist"), {"q": typed})
    assert page.context["cl"].result_count == many
    assert Customer.objects.for_firm(firm).count() == 2


def test_each_list_of_reference_data_is_searched(client, colleague, firm):
    label = LabelVersionFactory(firm=firm, product__name="Limpiador Añil", registration_number="99999-77")
    client.force_login(colleague.user)
    for name, typed in (("product", "anil 99999-77"), ("labelversion", "ANIL"), ("membership", "quill")):
        page = client.get(reverse(f"admin:records_{name}_changelist"), {"q": typed})
        assert page.context["cl"].result_count == 1, name
    assert label.product.name in client.get(reverse("admin:records_product_changelist"), {"q": "añil"}).text
    assert (
        client.get(reverse("admin:records_person_changelist"), {"q": "nobody"}).context["cl"].result_count == 0
    )
