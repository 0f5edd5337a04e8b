"""A step that is ticked on two phones: both statements stand, and each person takes back their own."""

import re
from collections.abc import Iterator
from html import unescape

import pytest
import time_machine
from django.test import Client
from django.urls import reverse

from records.models import Membership, Photo, Treatment
from tests.records.pages.test_offered_and_undone import press, write
from tests.records.services.test_drafts import reread

STEP = "downspouts-diverted"
AT_NINE, AT_TEN = "2026-09-14T09:00:00.120Z", "2026-09-14T10:00:00.480Z"


@pytest.fixture(autouse=True)
def evening() -> Iterator[None]:
    with time_machine.travel("2026-09-14T17:30:00-07:00", tick=False):
        yield


@pytest.fixture
def crew(draft, member, colleague) -> Treatment:
    """The draft, with both on the job."""
    helper = {"id": str(colleague.person.pk), "name": colleague.person.name}
    write(draft, member, **{f"people[{helper['id']}]": helper})
    return reread(draft)


def send(who: Membership, treatment: Treatment, page: dict[str, str], **more: str):
    phone = Client()
    phone.force_login(who.user)
    address = reverse("section", kwargs={"uuid": treatment.pk, "section": "protect"})
    known = {"base_revision": "1", "form": "f", "ticks": "protection", "person": str(who.user.pk)}
    return phone.post(address, known | page | more, headers={"HX-Request": "true"})


def tick(at: str = "", step: str = STEP) -> dict[str, str]:
    return {"tick:protection": step} | ({f"tick-at:protection:{step}": at} if at else {})


def untick(step: str = STEP) -> dict[str, str]:
    return {"ticked:protection": step}


def entries(treatment: Treatment) -> list[tuple[str, str]]:
    steps = reread(treatment).document.get("protection") or []
    return [(step.get("by", ""), step.get("at", "")) for step in steps]


def names(treatment: Treatment) -> list[str]:
    return [by for by, _at in entries(treatment)]


def test_two_people_who_tick_one_step_have_both_said_so_and_when(crew, member, colleague):
    send(colleague, crew, tick(AT_TEN))
    answer = send(member, crew, tick(AT_NINE))
    me, other = member.person.name, colleague.person.name
    assert entries(crew) == [(other, "2026-09-14T03:00:00-07:00"), (me, "2026-09-14T02:00:00-07:00")]
    assert f"Ticked by {other} at 03:00, {me} at 02:00." in unescape(answer.text)


def test_without_scripts_the_second_tick_stands_too(crew, member, colleague):
    for who in (member, colleague):
        send(who, crew, tick(), form=str(who.pk))
    assert names(crew) == [member.person.name, colleague.person.name]


def test_one_tick_that_is_sent_from_several_pages_is_one_entry(crew, member):
    for form, base in (("first", "1"), ("first", "1"), ("kept", "0"), ("anew", str(reread(crew).revision))):
        send(member, crew, tick(AT_NINE), form=form, base_revision=base)
    assert len(entries(crew)) == 1


def test_a_tick_that_was_taken_out_since_does_not_come_back(crew, member):
    send(member, crew, tick(AT_NINE))
    send(member, crew, untick(), base_revision=str(reread(crew).revision))
    send(member, crew, tick(AT_NINE), form="kept")
    assert entries(crew) == []
    send(member, crew, tick(AT_TEN))
    assert len(entries(crew)) == 1


def test_a_tick_stands_though_somebody_has_said_meanwhile_that_there_was_none(crew, member, colleague):
    none = {"v:protection": "none", "was:protection": '[""]'}
    send(colleague, crew, none, base_revision=str(crew.revision))
    assert reread(crew).document["protection"] == []
    send(member, crew, tick(AT_NINE))
    assert names(crew) == [member.person.name]


def test_unticking_takes_back_ones_own_and_says_who_still_stands(crew, member, colleague):
    send(member, crew, tick(AT_NINE))
    send(colleague, crew, tick(AT_TEN))
    answer = send(member, crew, untick(), base_revision=str(reread(crew).revision))
    assert names(crew) == [colleague.person.name]
    said = f"downspouts diverted is still ticked, by {colleague.person.name} at 03:00."
    assert said in unescape(answer.text)
    assert re.search(r'<input type="checkbox"[^>]+value="downspouts-diverted" checked', answer.text)


def test_without_scripts_the_page_stays_and_says_who_still_stands(crew, member, colleague):
    send(colleague, crew, tick(AT_TEN))
    phone = Client()
    phone.force_login(member.user)
    page = {"base_revision": str(reread(crew).revision), "form": "f", "ticks": "protection"} | untick()
    answer = phone.post(reverse("section", kwargs={"uuid": crew.pk, "section": "protect"}), page)
    assert "is still ticked" in answer.text
    assert len(entries(crew)) == 1


def test_a_colleagues_entry_is_taken_out_by_its_own_button_and_comes_back(crew, member, colleague, client):
    send(colleague, crew, tick(AT_TEN))
    client.force_login(member.user)
    (step,) = reread(crew).document["protection"]
    answer = press(client, crew, "protect", remove=f"protection[{step['id']}]")
    assert entries(crew) == []
    token = unescape(re.search(r'name="undo" value="([^"]+)"', answer.text)[1])
    press(client, crew, "protect", undo=token)
    assert names(crew) == [colleague.person.name]


def test_an_entry_that_names_nobody_is_unticked_by_anybody(crew, member):
    path = "protection[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b12]"
    write(crew, member, **{path: {"step": STEP}})
    send(member, crew, untick(), base_revision=str(reread(crew).revision))
    assert entries(crew) == []


def test_a_box_that_a_colleague_ticked_meanwhile_is_ticked_on_the_page_that_is_saved(crew, member, colleague):
    send(colleague, crew, tick(AT_TEN, "ponds-covered"))
    answer = send(member, crew, tick(AT_NINE))
    assert re.search(r'<input type="checkbox"[^>]+value="ponds-covered" checked', answer.text)
    assert not re.search(r'<input type="checkbox"[^>]+value="downspouts-diverted"', answer.text)
    assert 'name="ticked:protection" value="downspouts-diverted"' in answer.text


def test_a_photo_is_taken_off_the_entry_that_names_it(crew, member, colleague, client):
    sha256 = "ab" * 32
    row = {"treatment": crew, "firm": crew.firm, "sha256": sha256, "bytes": 10, "media_type": "image/jpeg"}
    Photo.objects.create(**row, by=member.user)
    send(member, crew, tick(AT_NINE))
    send(colleague, crew, tick(AT_TEN))
    second = reread(crew).document["protection"][1]
    write(crew, member, **{f"protection[{second['id']}].evidence[0]": {"sha256": sha256}})
    client.force_login(member.user)
    client.post(reverse("remove_photo", kwargs={"uuid": crew.pk, "sha256": sha256}), {"step": STEP})
    assert not any(step.get("evidence") for step in reread(crew).document["protection"])
