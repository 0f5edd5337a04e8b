"""What was refused stands in who did what: by page, by API and in the reference data."""

import re

import pytest
from django.urls import reverse

from records.auditing.refusals import NOT_FOUND
from records.models import AuditEntry
from records.services.invitations import link_of
from tests.factories import SiteFactory, UserFactory
from tests.project.test_addresses import address, our_names
from tests.records.auditing.entries import entries, newest

_UUID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")


def refusals(firm) -> list[AuditEntry]:
    return entries(firm, kind="refused")


@pytest.mark.parametrize("name", ["treatment", "section", "sign", "medical", "api_treatment", "api_sign"])
def test_who_asks_for_another_firms_treatment_is_noted_in_the_own_firm(client, draft, stranger, name):
    client.force_login(stranger.user)
    arguments = {"uuid": draft.pk} | ({"section": "mix"} if name == "section" else {})
    assert client.get(reverse(name, kwargs=arguments)).status_code == 404
    (entry,) = refusals(stranger.firm)
    assert (entry.by, entry.thing_id, entry.reason) == (stranger.user, str(draft.pk), "not-there")
    assert entry.page.startswith("GET ")
    assert refusals(draft.firm) == []


def test_every_address_of_another_row_that_is_not_there_is_noted(client, draft, stranger):
    """Whose it is can't be told: another firm's ids answer as made-up ones do."""
    client.force_login(stranger.user)
    unnoted, tried = [], set()
    for name in our_names():
        where = address(name, draft, draft)
        before = len(refusals(stranger.firm))
        other = _UUID.search(where) and not where.startswith(("/treatments/", "/api/v1/treatments/"))
        if other and client.get(where).status_code == NOT_FOUND:
            tried.add(name)
            named = _UUID.findall(where)[-1]
            if [each.thing_id for each in refusals(stranger.firm)[: -before or None]] != [named]:
                unnoted.append(name)
    assert unnoted == []
    assert tried >= {"request", "handing", "stock_lot", "incident", "arrival_original", "way_out_file", "hook"}
    assert tried >= {"filed_report", "api_request", "api_bundles", "neighbour", "people_file"}


def test_another_firms_row_in_the_reference_data_is_noted(client, firm, stranger):
    site = SiteFactory(firm=firm)
    client.force_login(stranger.user)
    assert client.get(reverse("admin:records_site_change", args=[site.pk])).status_code == 404
    assert refusals(stranger.firm)[0].thing_id == str(site.pk)


@pytest.mark.parametrize("name", ["sign", "api_sign"])
def test_who_may_not_is_noted(client, draft, member, name):
    member.role = "office"
    member.save()
    client.force_login(member.user)
    assert client.get(reverse(name, kwargs={"uuid": draft.pk})).status_code == 403
    entry = refusals(draft.firm)[0]
    assert (entry.by, entry.reason, entry.thing_id) == (member.user, "not-allowed", str(draft.pk))


def test_what_is_answered_or_not_an_address_at_all_is_no_refusal(client, draft, member):
    client.force_login(member.user)
    assert client.get(reverse("treatment", kwargs={"uuid": draft.pk})).status_code == 200
    assert client.get("/no-such-page/").status_code == 404
    assert refusals(draft.firm) == []


def test_an_account_without_a_firm_is_refused_in_no_firm(client, db):
    client.force_login(UserFactory())
    assert client.get(reverse("home")).status_code == 403
    entry = AuditEntry.across_firms.get(kind="refused")
    assert (entry.firm, entry.reason) == (None, "not-allowed")


def test_a_stranger_who_is_refused_again_and_again_fills_no_disk(client, draft):
    where = reverse("api_treatment", kwargs={"uuid": draft.pk})
    for _ in range(3):
        assert client.get(where).status_code == 401
    assert AuditEntry.across_firms.get(kind="refused").by is None


def test_no_secret_of_an_address_is_kept(client, firm, colleague, member):
    client.force_login(colleague.user)
    member.accepted_at = None
    member.save()
    link = link_of(member)
    assert client.get("/" + link.partition("//")[2].partition("/")[2]).status_code == 403
    token = link.rstrip("/").rsplit("/", 1)[1]
    entry = newest(firm, kind="refused")
    assert entry.page == "GET invitations/<uuid:uuid>/<str:token>/"
    assert token not in f"{entry.page} {entry.thing_id} {entry.thing_name}"
