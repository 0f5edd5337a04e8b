"""A signed record by the rules of another day, and what changed since it was signed."""

from datetime import datetime

import pytest
import time_machine
from django.urls import reverse

from compliance.models import StoredCheck
from compliance.services import pack_keeping
from compliance.services.after_signing import follow_up_confirmed
from tests.compliance.two_laws import EVENING, FIRST, LATER, SECOND, sign


@pytest.fixture
def signed(done, member, install, client):
    install(FIRST)
    with time_machine.travel(EVENING, tick=False):
        sign(done, member.user)
    client.force_login(member.user)
    return done


def page(client, treatment, **query) -> str:
    with time_machine.travel(LATER, tick=False):
        answer = client.get(reverse("comparison", kwargs={"uuid": treatment.pk}), query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_same_rules_say_the_same(client, signed):
    shown = page(client, signed)
    assert "By the rules of today" in shown
    assert "The record comes out the same." in shown


def test_a_changed_pack_is_told_and_nothing_is_stored(client, signed, install):
    install(SECOND)
    shown = page(client, signed)
    assert "Title (Example Act 1(a)), not found before: not met." in shown
    assert "Invented law: version 1 before, 2 now." in shown
    assert StoredCheck.objects.for_firm(signed.firm).count() == 1


def test_the_rules_of_a_day_before_the_change_can_be_asked_for(client, signed, install):
    install(SECOND)
    with time_machine.travel(LATER, tick=False):
        pack_keeping.note_packs_in_use()
    assert "The record comes out the same." in page(client, signed, day="2026-09-20")
    assert "The first day is 2026-09-14." in page(client, signed, day="2020-01-01")
    assert "Enter a valid date." in page(client, signed, day="yesterday")


def test_the_page_speaks_spanish(client, signed, install):
    install(SECOND)
    client.cookies["django_language"] = "es"
    shown = page(client, signed)
    assert "antes no se comprobaba: no se cumple." in shown
    assert "Según las reglas de hoy" in shown


def test_the_records_page_tells_what_a_follow_up_changed(
    client, signed, member, django_capture_on_commit_callbacks
):
    address = reverse("treatment", kwargs={"uuid": signed.pk})
    assert "What changed since it was signed" not in client.get(address).content.decode()
    moment = datetime.fromisoformat("2026-09-15T10:00:00-07:00")
    with time_machine.travel(moment, tick=False), django_capture_on_commit_callbacks(execute=True):
        follow_up_confirmed(signed, member.user, kind="copy-given", at=moment)
    shown = client.get(address).content.decode()
    assert "What changed since it was signed" in shown
    assert "What was known around the record" in shown
    assert reverse("comparison", kwargs={"uuid": signed.pk}) in shown


def test_another_firms_record_has_no_such_page(client, signed, stranger):
    client.force_login(stranger.user)
    assert client.get(reverse("comparison", kwargs={"uuid": signed.pk})).status_code == 404


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2200-01-01"])
def test_a_day_out_of_the_calendar_is_asked_for_again_in_words(client, signed, day):
    assert "Give a year from 1900 to 2199." in page(client, signed, day=day)
