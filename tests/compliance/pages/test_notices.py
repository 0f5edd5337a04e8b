"""The page on who is told: the answer first, each person with by when and why, and another day to look at."""

import pytest
import time_machine
from django.urls import reverse

from records.models import Neighbour, NeighbourList, Register, RegisteredPerson, Treatment
from records.services.planning import plan_treatment
from shared.quantities import Quantity

NOW = "2026-09-10T19:00:00+00:00"
"""Thursday noon at the site, for work planned on Monday 14 September at nine."""


@pytest.fixture
def lawn(firm, member, plan) -> Treatment:
    """Lawn at a home in Washington, next to somebody who is on the list of pesticide-sensitive persons."""
    surface = plan.surfaces[0]
    surface.kind = "lawn"
    surface.save()
    site = plan.site
    NeighbourList.objects.create(
        firm=firm, site=site, as_of="2026-09-01", source="walked along the street", by=member.user
    )
    where = {"line1": "6 Heron Row", "city": "Port Quill", "region": "WA", "country": "US"}
    Neighbour.objects.create(
        firm=firm, site=site, name="B. Lark", abutting=True, distance=Quantity("20", "ft"), **where
    )
    register = Register.objects.create(firm=firm, authority="us-wa", name="Sensitive", as_of="2026-06-15")
    RegisteredPerson.objects.create(firm=firm, register=register, name="B. Lark", **where)
    return plan_treatment(firm, member.user, plan)


def page(client, treatment, **query) -> str:
    with time_machine.travel(NOW, tick=False):
        answer = client.get(reverse("notices", kwargs={"uuid": treatment.pk}), query)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_the_answer_stands_first(client, lawn, colleague):
    """RCW 17.21.430: two hours before the start."""
    client.force_login(colleague.user)
    shown = page(client, lawn)
    assert "1 person must be told by Sept. 14, 2026, 07:00." in shown
    assert "If those who are missing are told now, the earliest lawful start is Sept. 10, 2026, 14:00." in shown
    assert "RCW 17.21.430(1), (2); 17.21.420(2)" in shown


def test_a_moment_that_has_passed_is_said_to_have(client, lawn, colleague):
    client.force_login(colleague.user)
    assert "That moment has passed." not in page(client, lawn)
    with time_machine.travel("2026-09-14T14:30:00+00:00", tick=False):
        shown = client.get(reverse("notices", kwargs={"uuid": lawn.pk})).content.decode()
    assert "That moment has passed." in shown
    assert "the earliest lawful start is Sept. 14, 2026, 09:30." in shown


def test_the_office_sees_who_is_on_the_register_and_a_crew_only_where(client, lawn, colleague, member):
    client.force_login(colleague.user)
    assert "B. Lark, 6 Heron Row" in page(client, lawn)
    client.force_login(member.user)
    shown = page(client, lawn)
    assert "6 Heron Row" in shown
    assert "B. Lark" not in shown


def test_signs_are_said_with_size_and_place(client, lawn, colleague):
    """RCW 17.21.410(1): at the usual point of entry; WAC 16-228-1322(1): four by five inches."""
    client.force_login(colleague.user)
    assert "at least 1. 5 in × 4 in; at the usual point of entry of a home" in page(client, lawn)


def test_another_day_is_looked_at_and_not_saved(client, lawn, colleague):
    client.force_login(colleague.user)
    before = lawn.revision
    shown = page(client, lawn, day="2026-11-02", time="08:00")
    assert "1 person must be told by Nov. 2, 2026, 06:00." in shown
    assert "Tell for the first time" in shown
    lawn.refresh_from_db()
    assert lawn.revision == before
    assert "Enter a valid date." in page(client, lawn, day="some day", time="08:00")


def test_a_roof_names_the_rules_that_do_not_apply_with_their_reasons(client, draft, member):
    client.force_login(member.user)
    shown = page(client, draft)
    assert "Nobody must be told before the start, as far as it can be told." in shown
    assert "Marker of a landscape application" in shown


def test_what_is_missing_leads_to_where_it_is_entered(client, lawn, colleague):
    NeighbourList.objects.for_firm(lawn.firm).delete()
    RegisteredPerson.objects.for_firm(lawn.firm).delete()
    Register.objects.for_firm(lawn.firm).delete()
    client.force_login(colleague.user)
    shown = page(client, lawn)
    assert "1 rule on notices can&#x27;t be told yet" in shown
    assert f'href="{reverse("registers")}"' in shown


def test_the_page_speaks_spanish(client, lawn, colleague):
    client.force_login(colleague.user)
    client.cookies["django_language"] = "es"
    shown = page(client, lawn, day="2026-11-02", time="08:00")
    assert "A quién se avisa" in shown
    assert "Hay que avisar a 1 persona, a más tardar el 14 de septiembre de 2026, 07:00." in shown


def test_the_draft_leads_to_the_page(client, draft, member):
    client.force_login(member.user)
    shown = client.get(reverse("treatment", kwargs={"uuid": draft.pk})).content.decode()
    assert reverse("notices", kwargs={"uuid": draft.pk}) in shown
