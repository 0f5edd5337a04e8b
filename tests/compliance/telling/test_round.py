"""What is made for each person of a planned treatment: by a means that the law allows, saying what it asks."""

from datetime import timedelta

import pytest
from icalendar import Calendar

from compliance.services.telling import Choice, Round, Visit
from compliance.services.telling_many import ByDefault
from records.models import NotByMeans, Notice
from records.outbox.printing import print_papers
from records.outbox.queueing import queue
from tests.compliance.telling.conftest import ALTERNATES, NEIGHBOURS, PLANNED

pytestmark = pytest.mark.django_db
VISIT = Visit(PLANNED + timedelta(hours=2), ALTERNATES)


def of(treatment, name):
    return next(one for one in Round(treatment).people if one.contact.name == name)


def pieces(treatment, *names, means=None):
    people = [of(treatment, name) for name in names]
    chosen = {one.key: Choice(means or one.ways[0], one.languages) for one in people}
    return list(Round(treatment).pieces(chosen, VISIT))


def test_whom_the_law_names_is_due_and_others_are_offered(lawn, neighbours):
    people = {one.contact.name: one.is_due for one in Round(lawn).people}
    assert people == {"A. Marlowe": True, "B. Lark": True, "C. Wren": True, "D. Fink": False}


def test_the_best_way_is_the_one_for_which_there_is_an_address_and_which_the_law_allows(lawn, neighbours):
    """New York wants the neighbours told in writing (ECL 33-1004(1)(b)(i)): no call will do."""
    assert of(lawn, "B. Lark").ways[0] == "email"
    assert of(lawn, "C. Wren").ways == ("letter", "door", "in-person")


def test_who_does_not_want_e_mail_is_offered_another_way(lawn, neighbours, office):
    NotByMeans.objects.create(firm=lawn.firm, means="email", reached="lark@example.net", by=office.user)
    assert of(lawn, "B. Lark").ways[0] == "letter"


def test_both_languages_are_written_where_the_law_asks_for_both(lawn, neighbours):
    (wren,) = pieces(lawn, "C. Wren")
    assert wren.languages == ("en", "es")
    assert "Notice of a pesticide treatment" in wren.text
    assert "Aviso" in wren.text


def test_as_many_alternate_dates_are_needed_as_the_law_wants_named(lawn, neighbours):
    """ECL 33-1004(1)(b)(i): the date and two alternative dates."""
    assert Round(lawn).dates_needed == 2


def test_a_notice_carries_the_rules_that_ask_for_it_and_its_last_moment(lawn, neighbours):
    (lark,) = pieces(lawn, "B. Lark")
    assert lark.rules == (NEIGHBOURS,)
    assert lark.latest == PLANNED - timedelta(hours=48)
    assert lark.alternate_dates == ALTERNATES


def test_the_same_plan_gives_the_same_notices_whenever_they_are_made(lawn, neighbours, days_before):
    first = [one.digest for one in pieces(lawn, "A. Marlowe", "B. Lark", "C. Wren")]
    days_before.shift(timedelta(days=1))
    assert [one.digest for one in pieces(lawn, "A. Marlowe", "B. Lark", "C. Wren")] == first


def test_the_entry_for_a_calendar_names_the_visit_and_its_hours(lawn, neighbours):
    (lark,) = pieces(lawn, "B. Lark")
    (event,) = Calendar.from_ical(lark.attachments[0].content).walk("VEVENT")
    assert (event.start, event.end) == (PLANNED, PLANNED + timedelta(hours=2))
    assert event["uid"] == f"{lawn.pk}@visits"


def test_the_customer_gets_how_to_prepare_with_the_notice(lawn, neighbours):
    (marlowe,) = pieces(lawn, "A. Marlowe")
    assert [one.name for one in marlowe.attachments] == ["visit.ics", "before-the-work-en.pdf"]


def test_who_has_a_notice_on_its_way_is_not_due_again(lawn, neighbours, office):
    queue(lawn, pieces(lawn, "B. Lark"), office.user)
    lark = of(lawn, "B. Lark")
    assert not lark.is_due
    assert [one.email for one in lark.live] == ["lark@example.net"]


def test_who_was_refused_is_due_again(lawn, neighbours, office):
    queue(lawn, pieces(lawn, "B. Lark"), office.user)
    Notice.objects.for_firm(lawn.firm).update(state=Notice.State.REFUSED)
    assert of(lawn, "B. Lark").is_due


def test_what_was_refused_is_no_default_until_the_address_is_another(lawn, neighbours, office):
    queue(lawn, pieces(lawn, "B. Lark"), office.user)
    Notice.objects.for_firm(lawn.firm).update(state=Notice.State.REFUSED)
    lark = of(lawn, "B. Lark")
    assert (lark.ways[0], lark.ways[-1], lark.failed) == ("letter", "email", {"email"})
    assert ByDefault(lawn).chosen[lark.key].means == "letter"
    neighbours[0].email = "b.lark@example.net"
    neighbours[0].save()
    assert of(lawn, "B. Lark").ways[0] == "email"


def test_whom_the_only_way_did_not_reach_is_not_told_by_it_unasked(lawn, neighbours, office):
    site = lawn.site
    site.customer.line1 = site.customer.city = ""
    site.customer.save()
    queue(lawn, pieces(lawn, "A. Marlowe"), office.user)
    Notice.objects.for_firm(lawn.firm).update(state=Notice.State.REFUSED)
    marlowe = of(lawn, "A. Marlowe")
    assert marlowe.is_due and marlowe.ways and not marlowe.can_be_told
    many = ByDefault(lawn)
    assert marlowe.key in {one.key for one in many.unreached}
    assert marlowe.key not in many.chosen


def test_once_sent_the_plan_has_them_told_in_time_in_both_languages(lawn, neighbours, office, days_before):
    queue(lawn, pieces(lawn, "B. Lark", "C. Wren"), office.user)
    sent = PLANNED - timedelta(hours=72)
    Notice.objects.for_firm(lawn.firm).update(state=Notice.State.SENT, sent_at=sent, delivered_at=sent)
    states = {one.contact.name: one.telling.state for one in Round(lawn).people if one.telling.asks}
    assert states == {"A. Marlowe": "not-told", "B. Lark": "in-time", "C. Wren": "in-time"}


def test_who_is_told_in_person_is_handed_a_card_that_says_it_in_writing(lawn, neighbours):
    """ECL 33-1004(1)(b)(i) wants neighbours told in writing: a talk at the door leaves nothing to read."""
    marlowe, wren = pieces(lawn, "C. Wren", "A. Marlowe", means="in-person")
    assert [one.name for one in wren.attachments] == ["card-to-hand-over.pdf"]
    assert wren.attachments[0].content.startswith(b"%PDF")
    assert "on the phone" not in wren.text
    assert [one.name for one in marlowe.attachments] == ["card-to-hand-over.pdf", "before-the-work-en.pdf"]


def test_a_card_to_hand_over_waits_to_be_printed_with_the_other_papers(lawn, neighbours, office):
    queue(lawn, pieces(lawn, "C. Wren", means="in-person"), office.user)
    assert print_papers(lawn, Notice.State.READY, office.user).startswith(b"%PDF")
    assert Notice.objects.for_firm(lawn.firm).get().state == Notice.State.PRINTED
