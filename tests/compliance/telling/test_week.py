"""The page of the next two weeks: what is late or changed first, several treatments prepared with one look."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from compliance.services.notice_plan import plan_of
from compliance.services.telling import Round
from compliance.services.week import coming
from records.models import Notice
from records.services.planning import plan_treatment
from tests.compliance.telling.conftest import PLANNED
from tests.compliance.telling.test_changes import BEYOND, changed, edit, move, sent, tell
from tests.factories import LicenceFactory
from tests.records.auditing.entries import entries

pytestmark = pytest.mark.django_db
ADDRESS = "week_of_notices"


@pytest.fixture
def firm(firm):
    """The firm's licence is known, so that all that the law wants neighbours to be told is on record."""
    LicenceFactory(firm=firm, person=None, holder="the firm", authority="us-ny")
    return firm


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


def week(desk):
    return desk.get(reverse(ADDRESS)).content.decode()


def notices(lawn):
    return {one.name: one.means for one in Notice.objects.for_firm(lawn.firm)}


def test_it_says_how_many_are_untold_and_by_when(desk, lawn, neighbours):
    page = week(desk)
    assert "3 people untold, latest" in page
    assert "See to these first" not in page


def test_what_is_late_stands_first_and_is_ticked(desk, lawn, neighbours, days_before):
    days_before.move_to(PLANNED - timedelta(hours=20))
    page = week(desk)
    assert "See to these first" in page
    assert "That moment has passed." in page
    assert page.count("checked") == 1


def test_what_is_not_known_is_said(desk, lawn):
    assert "t be told yet" in week(desk)


def test_all_told_is_said(desk, lawn, neighbours, office):
    tell(lawn, office, "A. Marlowe", "B. Lark", "C. Wren")
    assert "3 notices have not gone out yet." in week(desk)
    Notice.objects.for_firm(lawn.firm).update(
        state="sent", sent_at=PLANNED - timedelta(hours=72), delivered_at=PLANNED - timedelta(hours=72)
    )
    assert "All are told." in week(desk)


def test_it_tells_of_each_treatment_what_its_own_page_tells(lawn, neighbours, office):
    (one,) = coming(lawn.firm)
    due = [each.telling for each in Round(lawn).people if each.is_due]
    assert [(each.to, each.number) for each in one.untold] == [(each.to, each.number) for each in due]
    assert [each.state for each in one.plan.tellings] == [each.state for each in plan_of(lawn).tellings]


def test_it_asks_the_database_as_often_for_many_as_for_one(lawn, neighbours, plan, member):
    with CaptureQueriesContext(connection) as one:
        list(coming(lawn.firm))
    for hours in range(1, 5):
        plan_treatment(lawn.firm, member.user, replace(plan, planned_at=PLANNED + timedelta(hours=hours)))
    with CaptureQueriesContext(connection) as five:
        assert len(list(coming(lawn.firm))) == 5
    assert len(five) == len(one)


def test_looking_sends_nothing_and_sending_twice_sends_once(desk, lawn, neighbours):
    looked = desk.post(reverse(ADDRESS), {"treatment": lawn.pk, "do": "look"}).content.decode()
    assert "Ready to go: 1 e-mail, 1 letter." in looked
    assert "Something must be typed first for 1 person" in looked
    assert "Notice of a pesticide treatment" in looked
    assert notices(lawn) == {}
    for _ in range(2):
        desk.post(reverse(ADDRESS), {"treatment": lawn.pk, "do": "send"})
    assert notices(lawn) == {"B. Lark": "email", "C. Wren": "letter"}
    assert Notice.objects.for_firm(lawn.firm).get(name="B. Lark").alternate_dates == [
        "2026-09-15",
        "2026-09-16",
    ]


def test_that_a_member_looked_at_several_is_noted_for_each(desk, lawn, neighbours, office):
    desk.post(reverse(ADDRESS), {"treatment": lawn.pk, "do": "look"})
    (look,) = entries(lawn.firm, kind="viewed", thing_id=str(lawn.pk))
    assert (look.by, look.page) == (office.user, "notices/")


def test_nothing_ticked_is_said(desk, lawn):
    assert "Tick at least one treatment." in desk.post(reverse(ADDRESS), {}, follow=True).content.decode()


def test_a_treatment_of_another_firm_is_not_prepared(client, stranger, lawn, neighbours):
    stranger.role = "office"
    stranger.save()
    client.force_login(stranger.user)
    page = client.post(reverse(ADDRESS), {"treatment": lawn.pk, "do": "send"}, follow=True).content.decode()
    assert "Tick at least one treatment." in page
    assert notices(lawn) == {}


def test_a_crew_does_not_see_it(client, member):
    client.force_login(member.user)
    assert client.get(reverse(ADDRESS)).status_code == 403


def test_a_move_is_a_task_here_until_it_is_told(desk, lawn, neighbours, office, days_before):
    tell(lawn, office, "A. Marlowe", "B. Lark")
    sent(lawn)
    days_before.shift(timedelta(hours=1))
    move(lawn, office, BEYOND)
    assert "2 people were told of something else than is planned." in week(desk)
    own = desk.get(reverse("notices", kwargs={"uuid": lawn.pk})).content.decode()
    assert "2 people were told of something else than is planned." in own
    desk.post(reverse(ADDRESS), {"treatment": lawn.pk, "do": "send"})
    assert changed(lawn) == {"A. Marlowe"}
    assert "1 person was told of something else than is planned." in week(desk)


def test_a_visit_that_is_off_is_told_from_its_page_once(desk, lawn, neighbours, office, days_before):
    tell(lawn, office, "A. Marlowe", "B. Lark")
    sent(lawn)
    days_before.shift(timedelta(hours=1))
    edit(lawn, office, "record.result", "stood-down")
    assert "Off: 2 people" in week(desk)
    address = reverse("prepare_notices", kwargs={"uuid": lawn.pk})
    assert "The visit is off." in desk.get(address).content.decode()
    ticked = {}
    for one in Round(lawn).changed:
        found = {"tell": "on", "means": one.ways[0], "language": " ".join(one.languages)}
        ticked |= {f"{one.key}-{name}": value for name, value in found.items()}
    for _ in range(2):
        assert desk.post(address, ticked | {"do": "send"}).status_code == 302
    assert Notice.objects.for_firm(lawn.firm).filter(called_off=True).count() == 2
    assert Notice.objects.for_firm(lawn.firm).count() == 4
