"""Searches of the register are kept under a name, for oneself or for all, and lead back to what was found."""

from urllib.parse import parse_qsl

import pytest
from django.urls import reverse

from records.models import SavedView
from records.services import saved_views
from tests.factories import MembershipFactory
from tests.records.auditing.entries import newest

SEARCH = {"county": "quill", "wind_least": "2 mph", "order": "customer"}


def saved(client, name="Windy", search=SEARCH, **given):
    where = f"{reverse('save_view')}?" + "&".join(f"{key}={value}" for key, value in search.items())
    return client.post(where, {"name": name, **given})


def shown(client) -> dict[str, str]:
    page = client.get(reverse("saved_views"))
    return {view.name: address for view, address, _removable in page.context["rows"]}


def test_what_is_to_be_saved_is_said_as_a_person_reads_it(client, draft, member):
    client.force_login(member.user)
    asked = {"day_from": "2026-05-01", "state": "signed", "order": "customer"}
    told = dict(client.get(reverse("save_view"), asked).context["asked"])
    assert told == {"From day": "May 1, 2026", "State": "Signed", "Order": "By customer"}


@pytest.fixture
def office(firm):
    return MembershipFactory(firm=firm, role="office")


def test_a_saved_view_leads_to_the_same_search_and_stands_above_the_register(client, draft, member):
    client.force_login(member.user)
    answer = saved(client)
    assert answer["Location"] == f"{reverse('register')}?county=quill&wind_least=2+mph&order=customer"
    (where,) = shown(client).values()
    assert dict(parse_qsl(where.partition("?")[2])) == SEARCH
    page = client.get(where)
    assert page.context["search"].wanted().county == "quill"
    assert ">Windy</a>" in page.content.decode()
    entry = newest(draft.firm, thing="records.savedview")
    assert (entry.kind, entry.thing_name) == ("created", "Windy")


def test_what_is_not_for_all_only_its_person_sees(client, member, office, stranger):
    client.force_login(office.user)
    saved(client, "Own")
    saved(client, "Shared", shared="on")
    assert set(shown(client)) == {"Own", "Shared"}
    client.force_login(member.user)
    assert set(shown(client)) == {"Shared"}
    client.force_login(stranger.user)
    assert shown(client) == {}


def test_a_crew_shares_no_view_even_if_the_form_says_so(client, firm, member):
    client.force_login(member.user)
    assert "For all members" not in client.get(reverse("save_view"), SEARCH).content.decode()
    saved(client, shared="on")
    assert not SavedView.objects.for_firm(firm).get().shared


def test_each_removes_own_ones_and_who_may_share_also_those_for_all(
    client, firm, member, office, colleague, stranger
):
    client.force_login(office.user)
    saved(client, "Own")
    saved(client, "Shared", shared="on")
    own, shared = SavedView.objects.for_firm(firm).order_by("name")

    def remove(membership, view) -> int:
        client.force_login(membership.user)
        return client.post(reverse("remove_view", kwargs={"view": view.pk})).status_code

    assert [remove(each, own) for each in (member, colleague, stranger)] == [404, 404, 404]
    assert [remove(each, shared) for each in (member, stranger)] == [404, 404]
    assert remove(colleague, shared) == 302
    assert remove(office, own) == 302
    assert not SavedView.objects.for_firm(firm).exists()
    assert (newest(firm, thing="records.savedview").kind) == "removed"


def test_the_same_name_again_replaces_the_view(client, firm, member):
    client.force_login(member.user)
    saved(client)
    saved(client, search={"site": "heron"})
    assert SavedView.objects.for_firm(firm).get().search == {"site": "heron"}


def test_a_search_that_makes_no_sense_and_one_without_a_name_are_not_saved(client, firm, member):
    client.force_login(member.user)
    assert saved(client, search={"day_from": "yesterday"}).status_code == 422
    assert saved(client, name=" ").status_code == 422
    assert not SavedView.objects.for_firm(firm).exists()


def test_nobody_keeps_views_without_end(client, firm, member, monkeypatch):
    monkeypatch.setattr(saved_views, "MOST", 1)
    client.force_login(member.user)
    saved(client)
    assert saved(client, "Another").status_code == 422
    assert saved(client).status_code == 302


def test_an_inspector_with_a_view_of_findings_finds_nothing_by_them(client, draft, member, office):
    client.force_login(office.user)
    saved(client, search={"finding": "us-wa/x"}, shared="on")
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    assert list(client.get(shown(client)["Windy"]).context["treatments"]) == []
