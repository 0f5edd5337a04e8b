"""Moved, called off, taken up again: who was told is told once of each change, and nobody else is."""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse
from icalendar import Calendar

from compliance.services.telling import Choice, Round, Visit
from records.document.edits import Edit
from records.models import Notice, Treatment
from records.outbox.outdated import outdated
from records.outbox.person_says import answer
from records.outbox.printing import print_papers
from records.outbox.queueing import queue
from records.outbox.sending import send_next
from records.outbox.told import told_at
from records.services.drafts import edit_draft
from tests.compliance.telling.conftest import ALTERNATES, PLANNED

pytestmark = pytest.mark.django_db
BEYOND = PLANNED + timedelta(days=7)
VISIT = Visit(None, ALTERNATES)
LATER = Visit(None, tuple(day + timedelta(days=7) for day in ALTERNATES))


def edit(treatment, by, path, value):
    one = Edit(str(uuid4()), path, value, treatment.revision)
    edit_draft(treatment, [one], by.user)
    treatment.refresh_from_db()


def move(treatment, by, start):
    edit(treatment, by, "timing.planned_at", start.isoformat())


def tell(treatment, by, *names, visit=VISIT, means=None):
    """Queue the notices to these people, all as they come by default."""
    people = [one for one in Round(treatment).people if one.contact.name in names]
    chosen = {one.key: Choice(means or one.ways[0], one.languages) for one in people}
    return queue(treatment, list(Round(treatment).pieces(chosen, visit)), by.user)


def tell_change(treatment, by, visit=LATER):
    return tell(treatment, by, *(one.contact.name for one in Round(treatment).changed), visit=visit)


def changed(treatment):
    return {one.contact.name for one in Round(treatment).changed}


def sent(treatment, **only):
    waiting = Notice.objects.for_firm(treatment.firm).filter(state="ready", **only)
    waiting.update(state="sent", sent_at=datetime.now(UTC))


def newest(treatment, name):
    return Notice.objects.for_firm(treatment.firm).filter(name=name).order_by("made_at").last()


@pytest.fixture
def told(lawn, neighbours, office, days_before) -> Treatment:
    """Marlowe and Lark have their e-mails; Wren's letter is not printed."""
    tell(lawn, office, "A. Marlowe", "B. Lark", "C. Wren")
    sent(lawn, means="email")
    days_before.shift(timedelta(hours=1))
    return lawn


def test_nothing_is_changed_while_it_stands_as_told(told):
    assert changed(told) == set()


def test_a_move_to_an_alternate_date_that_was_named_tells_nobody_again(told, office):
    move(told, office, PLANNED + timedelta(days=1))
    assert changed(told) == set()


def test_a_move_beyond_is_told_to_exactly_those_whose_notice_went_out(told, office):
    move(told, office, BEYOND)
    assert changed(told) == {"A. Marlowe", "B. Lark"}


def test_another_hour_of_the_same_day_is_told(told, office):
    move(told, office, PLANNED + timedelta(hours=3))
    assert changed(told) == {"A. Marlowe", "B. Lark"}


def test_the_change_says_what_it_replaces_and_asks_what_the_law_asks(told, office):
    move(told, office, BEYOND)
    tell_change(told, office)
    lark = newest(told, "B. Lark")
    assert "Change to a pesticide treatment" in lark.subject
    assert "This notice replaces our last one, for September 14, 2026." in lark.text
    assert "Este aviso reemplaza el anterior" in lark.text
    assert lark.planned_at == BEYOND
    assert lark.alternate_dates == [day.isoformat() for day in LATER.alternates]


def test_each_change_is_told_once(told, office):
    move(told, office, BEYOND)
    assert tell_change(told, office) == 2
    assert changed(told) == set()
    assert tell_change(told, office) == 0


def test_what_has_not_gone_out_is_withdrawn(told, office):
    move(told, office, BEYOND)
    tell_change(told, office)
    assert newest(told, "C. Wren").state == "withdrawn"
    assert {one.contact.name for one in Round(told).people if one.is_due} == {"C. Wren"}


def test_an_email_that_names_another_time_is_never_sent(lawn, neighbours, office, settings):
    tell(lawn, office, "C. Wren", means="letter")
    Notice.objects.for_firm(lawn.firm).update(means="email", email="wren@example.net")
    move(lawn, office, BEYOND)
    send_next(lawn.firm)
    assert newest(lawn, "C. Wren").state == "withdrawn"


def test_there_and_back_and_there_again_is_told_each_time_with_a_higher_sequence(told, office, days_before):
    sequences = []
    for start in (BEYOND, PLANNED, BEYOND):
        move(told, office, start)
        tell_change(told, office, visit=Visit(None, (start.date() + timedelta(1), start.date() + timedelta(2))))
        sent(told, means="email")
        sequences.append(event(newest(told, "B. Lark"))["sequence"])
        days_before.shift(timedelta(minutes=5))
    assert sequences == [1, 2, 3]


def event(notice):
    content = bytes(notice.files.get(name="visit.ics").kept.content)
    (one,) = Calendar.from_ical(content).walk("VEVENT")
    return one


def test_called_off_is_told_once_to_those_who_were_told_and_cancels_the_entry(told, office, days_before):
    edit(told, office, "record.result", "stood-down")
    assert changed(told) == {"A. Marlowe", "B. Lark"}
    assert len(Round(told).people) == 2
    assert tell_change(told, office) == 2
    lark = newest(told, "B. Lark")
    assert "The treatment will not take place" in lark.subject
    assert event(lark)["status"] == "CANCELLED"
    assert event(lark)["sequence"] == 1
    assert event(lark)["uid"] == f"{told.pk}@visits"
    assert changed(told) == set()


def test_their_page_says_at_once_that_it_is_off(told, office):
    edit(told, office, "record.result", "stood-down")
    assert told_at(newest(told, "B. Lark").token).cancelled


def test_that_it_is_off_is_no_notice_of_a_treatment(told, office, days_before):
    edit(told, office, "record.result", "stood-down")
    tell_change(told, office)
    sent(told)
    days_before.shift(timedelta(minutes=5))
    edit(told, office, "record.result", None)
    assert changed(told) == {"A. Marlowe", "B. Lark"}
    assert tell_change(told, office, VISIT) == 2
    assert changed(told) == set()


def test_who_was_told_that_it_is_off_is_told_for_when_it_is_on_again(told, office, days_before, client):
    edit(told, office, "record.result", "stood-down")
    tell_change(told, office)
    sent(told)
    cancelled = newest(told, "B. Lark")
    days_before.shift(timedelta(minutes=5))
    edit(told, office, "record.result", None)
    page = client.get(reverse("told", kwargs={"token": cancelled.token})).content.decode()
    assert "You were told that this visit is off. It is on again, for " in page
    assert "The visit has moved." not in page
    client.force_login(office.user)
    prepare = client.get(reverse("prepare_notices", kwargs={"uuid": told.pk})).content.decode()
    assert prepare.count("Told that the visit is off. It is on again, for ") == 2
    assert "but of something else" not in prepare
    assert "on its way or arrived" not in prepare
    tell_change(told, office, VISIT)
    lark = newest(told, "B. Lark")
    assert "treatment of September 14, 2026 was off. It is on again, for September 14, 2026." in lark.text
    assert "This notice replaces" not in lark.text


def test_once_its_days_are_over_nobody_is_told_any_more(told, office, days_before):
    edit(told, office, "record.result", "stood-down")
    days_before.move_to(PLANNED + timedelta(days=3))
    assert changed(told) == set()


def test_a_change_that_was_refused_is_to_be_told_in_another_way(told, office, days_before):
    move(told, office, BEYOND)
    tell_change(told, office)
    Notice.objects.for_firm(told.firm).filter(planned_at=BEYOND, name="B. Lark").update(state="refused")
    (lark,) = Round(told).changed
    assert lark.contact.name == "B. Lark"
    assert lark.ways[0] == "letter"


def test_a_signed_record_changes_nothing_for_anybody(told, office):
    move(told, office, BEYOND)
    told.state = Treatment.State.SIGNED
    assert outdated(told, Notice.objects.for_firm(told.firm)) == []


def test_who_is_in_no_list_any_more_is_told_as_they_were_told(told, office, neighbours):
    move(told, office, BEYOND)
    neighbours[0].delete()
    assert changed(told) == {"A. Marlowe", "B. Lark"}


def test_who_is_in_no_list_any_more_is_not_told_by_what_they_do_not_want(told, office, neighbours):
    answer(told_at(newest(told, "B. Lark").token), "other_way", "")
    move(told, office, BEYOND)
    neighbours[0].delete()
    (lark,) = (one for one in Round(told).changed if one.contact.name == "B. Lark")
    assert lark.ways[0] == "letter"
    assert "email" not in lark.ways


def test_a_letter_that_names_another_time_is_not_printed(told, office):
    move(told, office, BEYOND)
    assert print_papers(told, Notice.State.READY, office.user) == b""
    assert newest(told, "C. Wren").state == "withdrawn"


def test_of_a_visit_that_is_off_nothing_is_asked_before_it_is_told(told, office, client):
    client.force_login(office.user)
    edit(told, office, "record.result", "stood-down")
    address = reverse("prepare_notices", kwargs={"uuid": told.pk})
    page = client.get(address).content.decode()
    assert "Done by about" not in page
    assert "What each notice says of the visit" not in page
    ticked = {
        f"{one.key}-{name}": value
        for one in Round(told).people
        for name, value in (("tell", "on"), ("means", one.ways[0]), ("language", "en"))
    }
    assert client.post(address, ticked | {"do": "look"}).status_code == 200
