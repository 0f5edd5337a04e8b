"""The first page: what each role has to see to."""

import pytest
import time_machine
from django.urls import reverse

from tests.factories import MembershipFactory


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
