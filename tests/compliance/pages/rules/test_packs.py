"""What a member reads of the packs in force."""

from html import unescape

import pytest
from django.urls import reverse

from compliance.pack_examples import registered_examples
from compliance.pack_reader import registered_packs
from tests.factories import SiteFactory


def read(client, name: str, **arguments: str) -> str:
    answer = client.get(reverse(name, kwargs=arguments))
    assert answer.status_code == 200
    return unescape(answer.content.decode())


def test_the_packs_in_force_are_those_of_the_firms_sites_and_the_others_are_linked(client, firm, member):
    SiteFactory(firm=firm, jurisdictions=["us", "us-ny", "us-ny-erie"])
    client.force_login(member.user)
    in_force, others = read(client, "rules").split("Packs of other places")
    packs = {pack.id: pack.title.en for pack in registered_packs()}
    assert packs["us"] in in_force and packs["us-ny"] in in_force and packs["everywhere"] in in_force
    assert packs["us-wa"] in others and packs["eu"] in others
    assert "us-ny-erie" in in_force
    assert {packs[name] in in_force + others for name in packs} == {True}


def test_another_firms_sites_bring_no_pack_into_force(client, firm, member, stranger):
    SiteFactory(firm=firm, jurisdictions=["us"])
    SiteFactory(firm=stranger.firm, jurisdictions=["gb"])
    client.force_login(member.user)
    in_force, _ = read(client, "rules").split("Packs of other places")
    assert "United Kingdom" not in in_force


@pytest.mark.parametrize("pack", [pack.id for pack in registered_packs()])
def test_a_pack_shows_each_rule_with_its_paragraph_its_doubt_and_its_examples(client, member, pack):
    client.force_login(member.user)
    page = read(client, "pack", pack=pack)
    for rule in next(one for one in registered_packs() if one.id == pack).rules:
        assert f'id="{rule.id.replace("/", "-")}"' in page
        assert all(duty.cite in page for duty in rule.all_duties)
        assert rule.doubt is None or rule.doubt.en in page
    assert "worked example" in page


def test_a_pack_shows_whom_it_wants_told_of_an_incident_by_when_and_in_which_case(client, member):
    client.force_login(member.user)
    said = read(client, "pack", pack="us-ma")
    assert "The Department of Agricultural Resources: at once, at the latest within 48 h." in said
    assert "If this is so: The accident, incident, injury or illness is significant." in said
    in_washington = read(client, "pack", pack="us-wa")
    assert "The Emergency Management Division, 1-800-258-5990: at once." in in_washington
    assert "In doubt: The pages were read, and not the law behind them." in in_washington


def test_a_pack_that_is_not_there_is_404(client, member):
    client.force_login(member.user)
    assert client.get(reverse("pack", kwargs={"pack": "us-zz"})).status_code == 404


def test_the_coverage_page_shows_what_is_stated_and_what_is_left_out(client, member):
    client.force_login(member.user)
    page = read(client, "coverage")
    assert "RCW 17.21.100(4)(a), (b)" in page
    assert "States nothing of" in page
    assert all(
        said.en in page for pack in registered_packs() if pack.place != "any" for said in pack.leaves_out
    )


def test_in_spanish_an_example_is_said_by_its_situation_and_what_is_changed_in_it(client, member):
    client.force_login(member.user)
    client.cookies["django_language"] = "es"
    page = read(client, "pack", pack="us-wa")
    assert not {one.says for one in registered_examples()["us-wa"] if one.says in page}
    assert "Un tejado en Washington en septiembre" in page
    assert "no se cumple" in page
