"""What somebody was told is what they were given last: an old paper that is given out later counts last."""

from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.notices.tellings import Telling
from compliance.services.notice_plan import plan_of
from compliance.services.telling import Round
from compliance.services.week import coming
from records.models import Notice
from records.outbox.results import result
from tests.compliance.telling.conftest import PLANNED
from tests.compliance.telling.test_changes import BEYOND, LATER, changed, edit, move, newest, tell, tell_change

pytestmark = pytest.mark.django_db
WREN = "C. Wren"


@pytest.fixture
def old_letter_last(lawn, neighbours, office, days_before):
    """Wren's letter lies printed while the visit moves; a card for the new day is handed over; then the letter
    goes to the post after all."""
    tell(lawn, office, WREN, means="letter")
    letter = newest(lawn, WREN)
    result(letter, "printed", by=office.user)
    days_before.shift(timedelta(minutes=5))
    move(lawn, office, BEYOND)
    tell(lawn, office, WREN, means="door", visit=LATER)
    days_before.shift(timedelta(minutes=5))
    result(newest(lawn, WREN), "handed_over", by=office.user)
    days_before.shift(timedelta(minutes=5))
    result(letter, "posted", by=office.user)
    lawn.refresh_from_db()
    return lawn


def of_wren(treatment) -> Telling:
    return next(one.telling for one in Round(treatment).people if one.contact.name == WREN)


def test_an_old_paper_that_is_given_out_after_the_new_one_makes_the_person_due_again(old_letter_last):
    assert of_wren(old_letter_last).state == "wrong"
    assert changed(old_letter_last) == {WREN}
    (wren,) = (one for one in Round(old_letter_last).people if one.contact.name == WREN)
    assert wren.is_due


def test_the_week_counts_them_as_untold(old_letter_last):
    (one,) = coming(old_letter_last.firm)
    assert [notice.name for notice in one.changed] == [WREN]
    assert of_wren(old_letter_last).number in {each.number for each in one.untold}


def test_the_pages_say_so(old_letter_last, client, office):
    client.force_login(office.user)
    where = {"uuid": old_letter_last.pk}
    prepare = client.get(reverse("prepare_notices", kwargs=where)).content.decode()
    assert "Told of" in prepare
    assert "on its way or arrived" not in prepare
    sent = client.get(reverse("notices_sent", kwargs=where)).content.decode()
    assert sent.count("This is what they were told last, and it does not tell what is planned now") == 1
    assert "Print again: letter.pdf" not in sent
    assert "Print again: door-card.pdf" in sent


def test_told_anew_they_are_told(old_letter_last, office, days_before):
    assert tell_change(old_letter_last, office) == 1
    assert changed(old_letter_last) == set()
    days_before.shift(timedelta(minutes=5))
    card = Notice.objects.for_firm(old_letter_last.firm).get(name=WREN, state="ready")
    result(card, "handed_over", by=office.user)
    old_letter_last.refresh_from_db()
    assert of_wren(old_letter_last).state == "in-time"
    assert changed(old_letter_last) == set()


def test_when_it_is_off_they_are_told_of_the_day_that_they_read_last(old_letter_last, office):
    edit(old_letter_last, office, "record.result", "stood-down")
    tell_change(old_letter_last, office)
    assert Notice.objects.for_firm(old_letter_last.firm).get(called_off=True).planned_at == PLANNED


def test_when_the_day_of_the_old_paper_is_over_they_are_told_that_the_later_day_is_off(
    old_letter_last, office, days_before
):
    edit(old_letter_last, office, "record.result", "stood-down")
    days_before.move_to(PLANNED + timedelta(days=3))
    tell_change(old_letter_last, office)
    assert Notice.objects.for_firm(old_letter_last.firm).get(called_off=True).planned_at == BEYOND
    assert changed(old_letter_last) == set()


def test_whom_a_notice_does_not_serve_is_due_again_here_and_on_the_page_of_the_week(
    lawn, neighbours, office, days_before
):
    days_before.move_to(PLANNED - timedelta(hours=20))
    tell(lawn, office, WREN, means="door")
    assert not next(one for one in Round(lawn).people if one.contact.name == WREN).is_due
    result(newest(lawn, WREN), "handed_over", by=office.user)
    lawn.refresh_from_db()
    assert of_wren(lawn).state == "wrong"
    assert next(one for one in Round(lawn).people if one.contact.name == WREN).is_due
    (one,) = coming(lawn.firm)
    assert of_wren(lawn).number in {each.number for each in one.untold}
    assert {each.state for each in plan_of(lawn).tellings} == {each.state for each in one.plan.tellings}
