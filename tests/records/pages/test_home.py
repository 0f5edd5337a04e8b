"""The first page: what each role has to see to."""

from dataclasses import replace
from datetime import timedelta

import pytest
import time_machine
from django.urls import reverse

from records.services.planning import plan_treatment
from tests.factories import MembershipFactory, PersonFactory


def titles(client, role: str, firm) -> dict[str, list[str]]:
    client.force_login(MembershipFactory(firm=firm, role=role).user)
    groups = client.get(reverse("home")).context["groups"]
    return {str(pile.title): [treatment.number for treatment in pile.treatments] for pile in groups}


@pytest.mark.parametrize(
    ("day", "pile"),
    [
        ("2026-09-14T09:00:00-07:00", "Today's treatments"),
        ("2026-09-15T09:00:00-07:00", "Unfinished, from earlier days"),
        ("2026-09-13T23:00:00-07:00", "Coming"),
    ],
)
@pytest.mark.parametrize("role", ["crew", "manager", "office"])
def test_a_draft_stands_in_the_pile_of_its_day(client, firm, draft, role, day, pile):
    with time_machine.travel(day, tick=False):
        piles = titles(client, role, firm)
    assert [title for title, numbers in piles.items() if draft.number in numbers] == [pile]


def test_the_manager_sees_what_was_signed_with_something_not_met(client, firm, draft):
    draft.state, draft.outcome = "signed", "not_met"
    draft.save()
    assert titles(client, "manager", firm)["Signed with something not met"] == [draft.number]


def test_an_inspector_sees_signed_records_only(client, firm, draft):
    assert titles(client, "inspector", firm) == {"Newest records": []}


def test_own_jobs_come_first_each_at_its_hour(client, firm, plan, member, colleague):
    elsewhere = replace(plan, people=[PersonFactory(firm=firm, name="B. Lark")])
    later = plan_treatment(firm, colleague.user, replace(plan, planned_at=plan.planned_at + timedelta(hours=2)))
    others = plan_treatment(firm, colleague.user, elsewhere)
    own = plan_treatment(firm, colleague.user, plan)
    client.force_login(member.user)
    with time_machine.travel("2026-09-14T07:00:00-07:00", tick=False):
        page = client.get(reverse("home"))
    today = page.context["groups"][0]
    assert [each.number for each in today.treatments] == [own.number, later.number, others.number]
    assert "<strong>11:00</strong>" in page.content.decode()
