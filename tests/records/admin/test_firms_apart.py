"""On the admin pages a manager meets no row of another firm, at no address."""

import pytest
from django.contrib import admin
from django.urls import reverse

from records.models import AuditEntry, Firm, SignedRecord, Treatment, User
from tests.factories import MembershipFactory, UserFactory

MODELS = [model for model in admin.site._registry if model._meta.app_label in ("records", "compliance")]
FOR_MANAGERS = [model for model in MODELS if model not in (AuditEntry, User)]


def address(model, page: str, *args: object) -> str:
    return reverse(f"admin:{model._meta.app_label}_{model._meta.model_name}_{page}", args=args)


def test_every_list_and_page_shows_the_own_rows_and_none_of_the_others(two_firms, client, stranger):
    ours, theirs = two_firms
    client.force_login(stranger.user)
    for model in FOR_MANAGERS:
        listed = client.get(address(model, "changelist"))
        assert listed.status_code == 200, model
        rows = {row.pk for row in listed.context["cl"].result_list}
        assert rows == {row.pk for row in model.objects.for_firm(theirs)}, model
        own = model.objects.for_firm(theirs).first()
        assert client.get(address(model, "change", own.pk)).status_code == 200, model
        other = model.objects.for_firm(ours).first()
        assert str(other.pk) not in listed.text, model
        for page in ("change", "history", "delete"):
            where = address(model, page, other.pk)
            assert client.get(where).status_code == 404, where
            assert client.post(where, {"post": "yes"}).status_code in (403, 404), where


def test_no_page_offers_a_row_of_another_firm(two_firms, client, stranger):
    ours, theirs = two_firms
    client.force_login(stranger.user)
    strange = [row.pk for other in FOR_MANAGERS for row in other.objects.for_firm(ours)]
    assert len(strange) > 15
    for model in FOR_MANAGERS:
        own = model.objects.for_firm(theirs).first()
        text = client.get(address(model, "change", own.pk)).text
        text += client.get(address(model, "changelist")).text
        assert [pk for pk in strange if str(pk) in text] == [], model


def test_the_past_of_another_firms_row_answers_404(two_firms, client, stranger):
    from records.models import Site

    ours, _ = two_firms
    client.force_login(stranger.user)
    past = Site.history.for_firm(ours).first()
    url = reverse("admin:records_site_simple_history", args=[past.uuid, past.history_id])
    assert client.get(url).status_code == 404
    url = reverse("admin:records_site_history", args=[past.uuid])
    assert client.get(url).status_code == 404


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_who_is_no_manager_does_not_come_in(role, firm, client):
    client.force_login(MembershipFactory(firm=firm, role=role).user)
    response = client.get(reverse("admin:index"))
    assert response.status_code == 302
    for model in MODELS:
        assert client.get(address(model, "changelist")).status_code == 302


@pytest.mark.parametrize("model", [AuditEntry, User])
def test_a_manager_sees_no_accounts_but_the_own_members_and_nothing_of_no_firm(
    model, two_firms, client, stranger
):
    client.force_login(stranger.user)
    assert client.get(address(model, "changelist")).status_code == 403


@pytest.mark.parametrize("model", [Treatment, SignedRecord])
def test_treatments_and_signed_rows_are_only_looked_at(model, two_firms, client, stranger):
    _, theirs = two_firms
    client.force_login(stranger.user)
    row = model.objects.for_firm(theirs).first()
    assert client.post(address(model, "change", row.pk), {"state": "draft"}).status_code == 403
    assert client.get(address(model, "add")).status_code == 403
    assert client.post(address(model, "delete", row.pk), {"post": "yes"}).status_code == 403


def test_the_owner_of_the_machine_enters_firms_and_accounts_and_no_records(two_firms, client):
    owner = UserFactory(is_superuser=True)
    client.force_login(owner)
    listed = client.get(address(Firm, "changelist"))
    assert {firm.pk for firm in listed.context["cl"].result_list} == {firm.pk for firm in two_firms}
    assert client.get(address(User, "changelist")).status_code == 200
    assert client.get(address(Firm, "change", two_firms[0].pk)).status_code == 200
    assert client.get(address(Treatment, "changelist")).status_code == 403


def test_an_owner_who_also_manages_a_firm_can_enter_another(firm, client):
    owner = MembershipFactory(firm=firm, role="manager", user__is_superuser=True).user
    client.force_login(owner)
    inlines = {f"-{n}-{name}": "0" for n in (1, 2) for name in ("TOTAL_FORMS", "INITIAL_FORMS")}
    entered = {"name": "New Exterior Care", "country": "US", "paper": "a4", "language": "es"}
    client.post(address(Firm, "add"), {**entered, "time_zone": "Europe/Madrid", "stock_share": "5", **inlines})
    assert Firm.across_firms.filter(name="New Exterior Care").exists()
