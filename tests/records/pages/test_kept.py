"""What a phone is told to keep, and what it shows where the log is installed."""

from dataclasses import replace
from datetime import timedelta

import pytest
import time_machine
from django.contrib.staticfiles import finders
from django.urls import reverse

from records.pages.kept import SHELL
from records.services.planning import plan_treatment
from tests.factories import BatchFactory, LicenceFactory, MembershipFactory

AT_FIRST = [reverse(name) for name in ("home", "roadside", "account", "account_logout", "incident_now")]
NOON = "2026-09-14T12:00:00-07:00"


@pytest.fixture
def kept(client):
    """The addresses that a member's phone is told to keep, each with its version."""

    def kept_by(member) -> dict[str, str]:
        client.force_login(member.user)
        with time_machine.travel(NOON, tick=False):
            pages = client.get(reverse("to_keep")).json()["pages"]
        return {page["address"]: page["version"] for page in pages}

    return kept_by


def of(treatment, name: str) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk})


def page_of(treatment) -> str:
    return of(treatment, "treatment")


def card_of(treatment) -> str:
    return of(treatment, "medical")


def test_today_each_treatment_and_all_pages_of_its_form_are_kept(kept, member, draft):
    slugs = ("arrive", "protect", "weather", "mix", "spray", "after")
    sections = [reverse("section", kwargs={"uuid": draft.pk, "section": slug}) for slug in slugs]
    aside = reverse("section", kwargs={"uuid": draft.pk, "section": "stand-down"})
    pages = [page_of(draft), card_of(draft), *sections, of(draft, "sign"), aside, of(draft, "sheet")]
    assert list(kept(member)) == [*AT_FIRST, reverse("choices"), *pages]


@pytest.mark.parametrize(("days", "is_kept"), [(-8, False), (-7, True), (14, True), (15, False)])
def test_a_week_back_and_fourteen_days_ahead_are_kept(kept, firm, member, plan, days, is_kept):
    planned = replace(plan, planned_at=plan.planned_at + timedelta(days=days))
    treatment = plan_treatment(firm, member.user, planned)
    assert (page_of(treatment) in kept(member)) is is_kept


def test_a_page_has_another_version_once_its_treatment_was_edited(kept, member, draft):
    before = kept(member)
    draft.revision += 1
    draft.save()
    after = kept(member)
    assert before.keys() == after.keys()
    assert {address for address in before if before[address] == after[address]} == {
        reverse(name) for name in ("choices", "account", "account_logout", "incident_now")
    }


def test_of_what_is_signed_the_medical_card_alone_is_kept(kept, member, draft):
    draft.state = "signed"
    draft.save()
    assert list(kept(member)) == [*AT_FIRST, card_of(draft)]


def test_no_card_is_kept_of_what_is_void_or_more_than_a_week_old(kept, member, draft):
    draft.state = "void"
    draft.save()
    assert card_of(draft) not in kept(member)
    draft.state, draft.day = "signed", draft.day - timedelta(days=8)
    draft.save()
    assert card_of(draft) not in kept(member)


def test_the_roadside_page_has_another_version_once_a_licence_is_another(kept, member):
    before = kept(member)[reverse("roadside")]
    LicenceFactory(firm=member.firm, person=member.person, number="CO-00999")
    assert kept(member)[reverse("roadside")] != before


def test_the_rows_to_choose_from_have_another_version_once_one_of_them_does(kept, member, draft):
    before = kept(member)[reverse("choices")]
    LicenceFactory(firm=member.firm, person=member.person, number="CO-00999")
    assert kept(member)[reverse("choices")] != before


def test_the_pages_of_today_have_another_version_once_a_tank_is_filled_or_something_is_left_over(
    kept, member, draft, plan, firm
):
    other = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at + timedelta(days=1)))
    versions = [kept(member)]
    BatchFactory(firm=firm, rig=plan.rig)
    versions.append(kept(member))
    draft.document["mixes"][0]["left_over"] = {"amount": {"value": "1", "unit": "gal"}}
    draft.save()
    versions.append(kept(member))
    assert len({each[page_of(draft)] for each in versions}) == 3
    assert len({each[page_of(other)] for each in versions}) == 1


def test_an_inspector_and_a_stranger_keep_nothing_of_ours(kept, client, firm, draft, stranger):
    client.force_login(MembershipFactory(firm=firm, role="inspector").user)
    assert client.get(reverse("to_keep")).status_code == 403
    assert list(kept(stranger)) == AT_FIRST


def test_every_file_of_the_shell_is_there(client):
    assert all(finders.find(name) for name in SHELL)
    script = client.get(reverse("service_worker"))
    assert script["Content-Type"].startswith("text/javascript")
    assert all(name in script.content.decode() for name in SHELL)


def test_the_log_can_be_installed(client):
    about = client.get(reverse("manifest"))
    assert about["Content-Type"] == "application/manifest+json"
    assert {icon["sizes"] for icon in about.json()["icons"]} == {"192x192", "512x512"}
    assert (about.json()["start_url"], about.json()["display"]) == ("/", "standalone")


def test_the_roadside_page_has_another_version_once_a_shared_tank_is_filled(kept, member):
    before = kept(member)[reverse("roadside")]
    BatchFactory(firm=member.firm)
    assert kept(member)[reverse("roadside")] != before
