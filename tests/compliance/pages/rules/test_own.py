"""The firm's own rules on their pages: written, tried, saved, taken into use, taken out."""

from html import unescape

import pytest
from django.urls import reverse

from compliance.models import OwnRules
from compliance.own_rules import Group, Row
from compliance.pages.rules.own_kinds import FORMS
from compliance.services import own_rules
from compliance.services.own_rules import in_use, newest
from tests.compliance.rulebook.builders import WIND, pack, rule
from tests.factories import LabelVersionFactory

NEW = reverse("new_own_rule", kwargs={"kind": "limit"})
CALM = {
    "title": "Calm only",
    "why": "a quiet street",
    "level": "advised",
    "quantity": "wind_speed",
    "max": "8 mph",
    "join": "all",
    "group-0-row-0-path": "surfaces[].kind",
    "group-0-row-0-asks": "is",
    "group-0-row-0-value": "roof",
    "example-0-says": "A gust",
    "example-0-situation": "roof-in-september",
    "example-0-expects": "not_met",
    "example-0-path_0": "weather.readings[0].wind_speed",
    "example-0-value_0": "8.1 mph",
    "reason": "the neighbours wrote",
}
OF_KIND = {
    "limit": {"quantity": "wind_speed", "max": "8 mph"},
    "record": {"path": "weather.readings[].sky"},
    "protection": {"steps": ["downspouts-diverted"], "how": "any", "features": ["downspout"]},
    "interval": {"form": "season", "first": "03-01", "last": "10-31"},
    "licence": {"holder": "person", "authorities": "us-wa, us-or", "supervised": ["in-sight"]},
}


def text(answer) -> str:
    return unescape(answer.content.decode())


def test_a_rule_is_saved_as_a_version_and_used_only_when_it_is_taken_into_use(client, firm, colleague):
    client.force_login(colleague.user)
    assert client.post(NEW, CALM)["Location"] == reverse("own_rules")
    version = newest(firm)
    assert (version.version, version.why, version.by) == (1, "the neighbours wrote", colleague.user)
    assert in_use(firm) is None
    page = text(client.get(reverse("own_rules")))
    assert "Version 1 is saved, but not in use." in page
    assert "not met, as expected" in page
    client.post(reverse("take_into_use"), {"version": "1"})
    assert in_use(firm).version == version
    assert "Version 1 is in use since" in text(client.get(reverse("own_rules")))


@pytest.mark.parametrize("kind", FORMS)
def test_every_kind_is_written_and_its_form_shows_what_was_written(client, firm, colleague, kind):
    client.force_login(colleague.user)
    typed = {"title": "Ours", "level": "required", **OF_KIND[kind]}
    assert client.post(reverse("new_own_rule", kwargs={"kind": kind}), typed).status_code == 302
    shown = client.get(reverse("own_rule", kwargs={"key": 1})).context["form"]
    assert {name: shown[name].value() for name in typed} == typed
    again = {name: shown[name].value() or "" for name in shown.fields}
    assert client.post(reverse("own_rule", kwargs={"key": 1}), again).status_code == 302
    first, second = OwnRules.objects.for_firm(firm).order_by("version")
    assert first.rules == second.rules


def test_what_loosens_a_law_is_refused_beside_the_field(client, firm, colleague, monkeypatch):
    law = pack(rule(**WIND))
    monkeypatch.setattr(own_rules, "packs_for", lambda *_: type("Bearing", (), {"in_force": [law]}))
    client.force_login(colleague.user)
    answer = client.post(NEW, CALM | {"max": "24 mph"})
    assert answer.status_code == 422
    assert answer.context["form"].errors["max"] == [
        "Example Act 1(a) allows 10 mph; a firm's rule can only be stricter"
    ]
    assert 'value="24 mph"' in text(answer) and "8.1 mph" in text(answer)
    assert newest(firm) is None


def test_what_loosens_a_label_is_refused_beside_the_field_unless_it_is_for_some_products(
    client, firm, colleague
):
    limits = [{"of": "wind_speed", "max": {"value": "10", "unit": "mph"}}]
    LabelVersionFactory(firm=firm, product__name="Sample Moss Wash", label={"limits": limits})
    client.force_login(colleague.user)
    answer = client.post(NEW, CALM | {"max": "11 mph"})
    assert answer.context["form"].errors["max"] == [
        "the label of Sample Moss Wash allows 10 mph; a firm's rule can only be stricter"
    ]
    other = {"group-0-row-0-path": "mixes.products[].name", "group-0-row-0-value": "Another"}
    assert client.post(NEW, CALM | {"max": "11 mph"} | other).status_code == 302


def test_the_time_between_is_refused_beside_its_field_where_a_label_asks_for_more(client, firm, colleague):
    limits = [{"of": "days_between", "min": {"value": "30", "unit": "day"}}]
    LabelVersionFactory(firm=firm, product__name="Sample Moss Wash", label={"limits": limits})
    client.force_login(colleague.user)
    form = {"title": "Ours", "level": "advised", "form": "between", "least": "20 day"}
    answer = client.post(reverse("new_own_rule", kwargs={"kind": "interval"}), form)
    assert answer.context["form"].errors["least"] == [
        "the label of Sample Moss Wash asks for at least 30 days; a firm's rule can only be stricter"
    ]


@pytest.mark.parametrize("act", ["save", "remove"])
def test_a_reason_that_is_too_long_is_said_beside_it_and_nothing_typed_is_lost(client, firm, colleague, act):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    answer = client.post(reverse("own_rule", kwargs={"key": 1}), CALM | {"act": act, "reason": "why " * 200})
    assert answer.status_code == 422
    page = text(answer)
    assert "Keep the reason to 500 characters." in page and "why " * 200 in page and "Calm only" in page
    assert newest(firm).version == 1


def test_rows_are_kept_in_their_groups(client, firm, colleague):
    client.force_login(colleague.user)
    second = {
        "group-0-join": "any", "group-0-row-0-over": "every", "join": "any", "group-1-join": "none",
        "group-1-row-0-path": "site.use", "group-1-row-0-asks": "is", "group-1-row-0-value": "school",
    }  # fmt: skip
    client.post(NEW, CALM | second)
    (own,) = newest(firm).own
    assert own.join == "any"
    assert own.groups == (
        Group((Row("surfaces[].kind", "is", "roof", "every"),), "any"),
        Group((Row("site.use", "is", "school"),), "none"),
    )
    page = text(client.get(reverse("own_rule", kwargs={"key": 1})))
    assert 'name="group-1-row-0-over"' not in page
    assert 'name="group-2-row-0-path"' in page
    assert "a group holds rows only" in page


def test_what_cannot_be_read_is_said_beside_its_field(client, colleague):
    client.force_login(colleague.user)
    errors = client.post(NEW, CALM | {"max": "9 gal"}).context["form"].errors
    assert errors["max"] == ["expected a speed, got 9 gal"]
    assert client.post(NEW, CALM | {"title": ""}).context["form"].errors.keys() == {"title"}


def test_a_rule_is_tried_as_it_is_typed_and_nothing_is_saved(client, firm, colleague):
    client.force_login(colleague.user)
    htmx = {"HX-Request": "true", "HX-Target": "tried"}
    tried = text(client.post(NEW, CALM, headers=htmx))
    assert "Wind: at most 8 mph." in tried and "not met, as expected" in tried
    assert "met, but not met was expected" in text(
        client.post(NEW, CALM | {"example-0-value_0": "3 mph"}, headers=htmx)
    )
    assert "expected a speed, got 9 gal" in text(client.post(NEW, CALM | {"max": "9 gal"}, headers=htmx))
    assert "Fill in the title" in text(client.post(NEW, {}, headers=htmx))
    assert newest(firm) is None


def test_a_fact_with_a_closed_list_offers_its_words_and_one_more_row(client, colleague):
    client.force_login(colleague.user)
    htmx = {"HX-Request": "true", "HX-Target": "conditions"}
    rows = text(client.post(NEW, {"group-0-row-0-path": "surfaces[].kind"}, headers=htmx))
    assert '<option value="wall">' in rows
    assert 'name="group-0-row-1-path"' in rows and 'name="group-0-row-2-path"' not in rows


def test_rules_whose_example_fails_are_not_taken_into_use_and_the_page_says_why(client, firm, colleague):
    client.force_login(colleague.user)
    client.post(NEW, CALM | {"example-0-expects": "met"})
    answer = client.post(reverse("take_into_use"), {"version": "1"}, follow=True)
    assert "Not taken into use: an example comes out otherwise. Calm only" in text(answer)
    assert in_use(firm) is None


def test_a_version_that_nobody_looked_at_is_not_taken_into_use(client, firm, colleague):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    client.post(reverse("own_rule", kwargs={"key": 1}), CALM | {"max": "5 mph"})
    client.post(reverse("take_into_use"), {"version": "1"})
    assert in_use(firm) is None


def test_a_rule_is_taken_out_by_a_new_version(client, firm, colleague):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    client.post(reverse("own_rule", kwargs={"key": 1}), {"act": "remove", "reason": "moved"})
    assert (newest(firm).version, newest(firm).own, newest(firm).why) == (2, [], "moved")
    assert "Taken out, Calm only. moved" in text(client.get(reverse("own_rules")))


def test_crew_reads_the_firms_rules_and_changes_none(client, firm, member, colleague):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    client.force_login(member.user)
    page = text(client.get(reverse("own_rules")))
    assert "Calm only" in page and "Take it into use" not in page and "Change this rule" not in page
    for name, arguments in (("own_rule", {"key": 1}), ("new_own_rule", {"kind": "limit"})):
        assert client.post(reverse(name, kwargs=arguments), CALM).status_code == 403
    assert client.post(reverse("take_into_use"), {"version": "1"}).status_code == 403
    assert newest(firm).version == 1


def test_a_stranger_finds_none_of_our_rules(client, colleague, stranger):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    client.force_login(stranger.user)
    assert client.get(reverse("own_rule", kwargs={"key": 1})).status_code == 404
    assert client.get(reverse("what_if")).status_code == 404
    assert "Calm only" not in text(client.get(reverse("own_rules")))


def test_an_address_of_no_kind_is_404(client, colleague):
    client.force_login(colleague.user)
    assert client.get(reverse("new_own_rule", kwargs={"kind": "posting"})).status_code == 404


def test_who_comes_to_the_address_of_taking_into_use_is_shown_the_rules_and_changes_nothing(
    client, firm, colleague
):
    client.force_login(colleague.user)
    client.post(NEW, CALM)
    assert client.get(reverse("take_into_use"))["Location"] == reverse("own_rules")
    assert in_use(firm) is None
