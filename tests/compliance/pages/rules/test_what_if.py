"""The page that asks what other rules of the firm would have changed."""

from datetime import timedelta
from html import unescape

import time_machine
from django.urls import reverse

from compliance.models import WhatIf
from compliance.services.own_rules import save_rule
from tests.compliance.own import CALM, use_own


def test_a_run_is_begun_by_a_post_and_its_records_are_linked(client, firm, colleague, draft):
    version = save_rule(firm, CALM, colleague.user, "")
    client.force_login(colleague.user)
    address = reverse("what_if")
    assert "Ask now" in client.get(address).content.decode()
    assert client.post(address)["Location"] == address
    assert "0 of 0 records would come out differently." in client.get(address).content.decode()
    found = {"uuid": str(draft.pk), "number": draft.number, "site": "House", "day": "2026-09-14"}
    run = WhatIf.objects.for_firm(firm).get(version=version)
    run.note([{**found, "en": ["Wind: at most 8 mph now."], "es": ["Viento"]}], 1)
    page = unescape(client.get(address).content.decode())
    assert reverse("treatment", kwargs={"uuid": draft.pk}) in page and "Wind: at most 8 mph now." in page


def test_the_version_in_use_is_not_asked_what_it_would_have_changed(client, firm, colleague):
    use_own(firm, CALM)
    client.force_login(colleague.user)
    page = unescape(client.get(reverse("what_if")).content.decode())
    assert "is in use. Change a rule first" in page and "Ask now" not in page
    client.post(reverse("what_if"))
    assert not WhatIf.objects.for_firm(firm).exists()


def test_a_run_that_is_not_at_its_end_says_how_far_it_is_and_asks_again_by_itself(client, firm, colleague):
    version = save_rule(firm, CALM, colleague.user, "")
    WhatIf.objects.create(firm=firm, version=version, since="2024-11-25", total=900, done=300)
    client.force_login(colleague.user)
    page = client.get(reverse("what_if")).content.decode()
    assert "300 of 900 records are checked." in page and 'hx-trigger="load delay:2s"' in page
    assert "Look again" in page


def test_a_run_of_which_nothing_is_heard_is_said_to_be_broken_off_and_can_be_begun_again(
    client, firm, colleague
):
    version = save_rule(firm, CALM, colleague.user, "")
    run = WhatIf.objects.create(firm=firm, version=version, since="2024-11-25", total=900, done=300)
    for minutes, broken in ((9, False), (11, True)):
        with time_machine.travel(run.noted_at + timedelta(minutes=minutes), tick=False):
            client.force_login(colleague.user)
            page = client.get(reverse("what_if")).content.decode()
        assert ("This was broken off after 300 of 900 records" in page) is broken
        assert ("hx-trigger" in page) is not broken
    client.post(reverse("what_if"))
    assert "broken off" not in client.get(reverse("what_if")).content.decode()


def test_a_run_that_is_heard_of_again_goes_on(firm, colleague):
    version = save_rule(firm, CALM, colleague.user, "")
    run = WhatIf.objects.create(firm=firm, version=version, since="2024-11-25", total=900)
    with time_machine.travel(run.noted_at + timedelta(minutes=30), tick=False):
        assert run.is_broken_off
        run.note([], 20)
        assert not run.is_broken_off


def test_a_firm_without_rules_of_its_own_has_nothing_to_ask(client, colleague):
    client.force_login(colleague.user)
    assert client.get(reverse("what_if")).status_code == 404
