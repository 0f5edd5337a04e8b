"""What counts as having told somebody: it came, nothing replaced it, and it still says what is planned."""

from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.services.check import check_treatment
from compliance.services.telling import Round
from records.models import Attempt, NoticeTask
from records.outbox.by_hand import deeds_for
from records.outbox.person_says import answer, take_back
from records.outbox.results import result
from records.outbox.told import told_at
from tests.compliance.telling.conftest import NEIGHBOURS, PLANNED
from tests.compliance.telling.test_changes import BEYOND, changed, edit, move, newest, tell, tell_change

pytestmark = pytest.mark.django_db
Kind = Attempt.Kind
WREN, LARK = "context.neighbours[0]", "context.neighbours[1]"


@pytest.fixture
def happens(django_capture_on_commit_callbacks):
    """Something happens to the newest notice of somebody, and all that follows from it."""

    def happen(treatment, name, kind, by=None):
        with django_capture_on_commit_callbacks(execute=True):
            result(newest(treatment, name), kind, by=by and by.user)
        treatment.refresh_from_db()

    return happen


@pytest.fixture
def mailed(lawn, neighbours, office, happens, days_before):
    """Lark was mailed in time; Wren has nothing."""
    tell(lawn, office, "B. Lark")
    happens(lawn, "B. Lark", Kind.ACCEPTED)
    days_before.shift(timedelta(hours=1))
    return lawn


def states(treatment):
    return {one.contact.name: one.telling.state for one in Round(treatment).people if one.telling.asks}


def outcomes(treatment):
    """What the check says of each neighbour."""
    found = [one for one in check_treatment(treatment).findings if one.basis.rule == NEIGHBOURS]
    where = ((one, next(path for path in one.judgement.about if path.startswith("context."))) for one in found)
    return {path: one.outcome.value for one, path in where}


def by_ids(treatment, path):
    """The path to this member of the first item of each list on the way."""
    found, here = [], treatment.document
    for name in path.split("."):
        here = here.get(name)
        if isinstance(here, list) and isinstance(here[0], dict):
            here = here[0]
            name = f"{name}[{here['id']}]"
        found.append(name)
    return ".".join(found)


def entries(treatment):
    return treatment.document.get("notices") or []


def test_a_notice_counts_for_whom_it_went_to_and_for_nobody_else(mailed):
    assert outcomes(mailed)[LARK] == "met"
    assert outcomes(mailed)[WREN] != "met"
    assert states(mailed)["C. Wren"] == "not-told"


def test_what_came_back_leaves_the_document_and_told_nobody(mailed, happens):
    assert len(entries(mailed)) == 2
    happens(mailed, "B. Lark", Kind.RETURNED)
    assert entries(mailed) == []
    assert "met" not in outcomes(mailed).values()
    assert states(mailed)["B. Lark"] == "not-told"


def test_what_came_back_after_the_signature_counts_for_nobody_in_a_later_check(mailed, happens):
    stated = entries(mailed)
    happens(mailed, "B. Lark", Kind.RETURNED)
    mailed.document["notices"] = stated
    assert "met" not in outcomes(mailed).values()


def test_of_two_notices_the_newer_is_what_somebody_was_told(mailed, office, happens):
    move(mailed, office, BEYOND)
    tell_change(mailed, office)
    happens(mailed, "B. Lark", Kind.ACCEPTED)
    move(mailed, office, PLANNED + timedelta(days=1))
    assert changed(mailed) == {"B. Lark"}
    assert states(mailed)["B. Lark"] == "wrong"
    assert outcomes(mailed)[LARK] == "not_met"


def test_a_second_notice_of_the_same_day_takes_nothing_from_the_first(mailed, office, happens, days_before):
    move(mailed, office, PLANNED + timedelta(hours=1))
    tell_change(mailed, office)
    with_late = newest(mailed, "B. Lark")
    result(with_late, Kind.ACCEPTED, at=PLANNED - timedelta(hours=5))
    assert states(mailed)["B. Lark"] == "in-time"


def test_what_went_out_can_t_be_withdrawn(mailed, office):
    assert Kind.WITHDRAWN not in deeds_for(newest(mailed, "B. Lark"), office.user)


def test_what_may_have_come_counts_for_a_cancellation_whatever_it_is_by_now(lawn, neighbours, office, happens):
    tell(lawn, office, "B. Lark")
    for kind in (Kind.BROKEN_OFF, Kind.AGAIN, Kind.WITHDRAWN):
        happens(lawn, "B. Lark", kind)
    edit(lawn, office, "record.result", "stood-down")
    assert changed(lawn) == {"B. Lark"}


def test_another_product_is_told_again_and_until_then_can_t_be_told(mailed, office):
    edit(mailed, office, by_ids(mailed, "mixes.products.name"), "Another Moss Wash")
    assert changed(mailed) == {"B. Lark"}
    assert states(mailed)["B. Lark"] == "unknown"
    assert outcomes(mailed)[LARK] == "cant_tell"
    tell_change(mailed, office)
    assert changed(mailed) == set()


@pytest.mark.parametrize(
    ("path", "value"),
    [("people.name", "T. Other"), ("targets", ["algae"]), ("mixes.products.registration_number", "99999-1")],
)
def test_what_a_notice_states_besides_is_told_again_where_it_changes(mailed, office, path, value):
    edit(mailed, office, by_ids(mailed, path), value)
    assert changed(mailed) == {"B. Lark"}


def test_their_page_does_not_say_that_nothing_has_changed(mailed, office, client):
    address = reverse("told", kwargs={"token": newest(mailed, "B. Lark").token})
    assert "Nothing has changed." in client.get(address).content.decode()
    edit(mailed, office, "targets", ["algae"])
    page = client.get(address).content.decode()
    assert "something else has changed" in page
    assert "Nothing has changed." not in page


def test_what_came_to_the_wrong_address_told_nobody(mailed, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        answer(told_at(newest(mailed, "B. Lark").token), NoticeTask.Kind.WRONG_ADDRESS, "")
    mailed.refresh_from_db()
    assert entries(mailed) == []
    assert states(mailed)["B. Lark"] == "not-told"
    assert "B. Lark" in {one.contact.name for one in Round(mailed).people if one.is_due}


def test_a_wrong_press_that_is_taken_back_leaves_them_told(mailed, django_capture_on_commit_callbacks):
    told = told_at(newest(mailed, "B. Lark").token)
    with django_capture_on_commit_callbacks(execute=True):
        answer(told, NoticeTask.Kind.WRONG_ADDRESS, "")
    with django_capture_on_commit_callbacks(execute=True):
        take_back(told, NoticeTask.Kind.WRONG_ADDRESS)
    mailed.refresh_from_db()
    assert len(entries(mailed)) == 2
    assert states(mailed)["B. Lark"] == "in-time"


def test_of_a_message_on_voicemail_it_can_t_be_told_whether_it_was_heard(lawn, neighbours, office, happens):
    tell(lawn, office, "A. Marlowe", means="phone")
    happens(lawn, "A. Marlowe", Kind.VOICEMAIL, office)
    assert [one["means"] for one in entries(lawn)] == ["voicemail"]
    marlowe = next(one for one in Round(lawn).people if one.contact.name == "A. Marlowe")
    assert marlowe.is_due


def test_a_printed_letter_has_told_nobody_of_anything(lawn, neighbours, office, happens):
    tell(lawn, office, "C. Wren", means="letter")
    happens(lawn, "C. Wren", Kind.PRINTED, office)
    move(lawn, office, BEYOND)
    assert changed(lawn) == set()
    assert "C. Wren" in {one.contact.name for one in Round(lawn).people if one.is_due}


def test_papers_that_do_not_tell_what_is_planned_are_not_offered_and_whoever_hands_one_over_is_warned(
    client, lawn, neighbours, office, happens
):
    tell(lawn, office, "B. Lark", "C. Wren", means="letter")
    happens(lawn, "C. Wren", Kind.PRINTED, office)
    client.force_login(office.user)
    address = reverse("notices_sent", kwargs={"uuid": lawn.pk})
    assert "Print 1 paper that waits" in client.get(address).content.decode()
    edit(lawn, office, "record.result", "stood-down")
    page = client.get(address).content.decode()
    assert "Print 1 " not in page
    assert "letter.pdf" not in page
    assert page.count("do not give it to anybody") == 2
    deed = reverse("notice_deed", kwargs={"uuid": lawn.pk, "notice": newest(lawn, "C. Wren").pk})
    page = client.post(deed, {"deed": "handed_over"}, follow=True).content.decode()
    assert "This paper does not tell what is planned now." in page
    assert changed(lawn) == {"C. Wren"}


def test_what_told_of_something_else_is_good_up_to_no_moment(mailed, office):
    assert "stale" in [one.kind for one in Round(mailed).plan.events()]
    edit(mailed, office, "targets", ["algae"])
    assert "stale" not in [one.kind for one in Round(mailed).plan.events()]
