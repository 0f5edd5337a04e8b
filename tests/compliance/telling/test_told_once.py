"""Two members of the office who prepare the same visit tell nobody twice, unless one says so."""

import pytest

from compliance.services.telling import Round
from records.models import Notice
from records.outbox.queueing import queue
from tests.compliance.telling.test_prepare_page import address, typed
from tests.compliance.telling.test_round import pieces

pytestmark = pytest.mark.django_db
State = Notice.State
IN_HAND = ["printed", "sent", "unsure"]
TOLD = "has been told meanwhile"


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


def send(desk, lawn, tab):
    return desk.post(address(lawn), tab | {"do": "send"}, follow=True).content.decode()


def states(lawn, **of):
    return list(
        Notice.objects.for_firm(lawn.firm).filter(**of).order_by("made_at").values_list("state", flat=True)
    )


def become(lawn, state):
    Notice.objects.for_firm(lawn.firm).update(state=state)


@pytest.mark.parametrize("state", IN_HAND)
def test_who_was_told_meanwhile_is_not_told_again_by_a_page_that_was_open(desk, lawn, neighbours, state):
    tab, other = typed(lawn, "B. Lark"), typed(lawn, "B. Lark", until="11:30")
    send(desk, lawn, tab)
    become(lawn, state)
    assert TOLD in send(desk, lawn, other)
    assert states(lawn) == [state]


def test_those_who_were_ticked_besides_are_told_and_the_look_says_who_is_left_out(desk, lawn, neighbours):
    tab = typed(lawn, "B. Lark", "C. Wren", until="11:30")
    send(desk, lawn, typed(lawn, "B. Lark"))
    become(lawn, State.SENT)
    look = desk.post(address(lawn), tab | {"do": "look"}).content.decode()
    assert TOLD in look
    assert "Ready to go: 1 letter." in look
    send(desk, lawn, tab)
    assert states(lawn, name="B. Lark") == ["sent"]
    assert states(lawn, name="C. Wren") == ["ready"]


def test_of_two_that_wait_the_last_goes_out(desk, lawn, neighbours, days_before):
    tab, other = typed(lawn, "B. Lark"), typed(lawn, "B. Lark", until="11:30")
    send(desk, lawn, tab)
    days_before.shift(60)
    assert (
        "instead of the one to them that still waits"
        in desk.post(address(lawn), other | {"do": "look"}).content.decode()
    )
    send(desk, lawn, other)
    assert states(lawn) == ["withdrawn", "ready"]
    send(desk, lawn, tab)
    assert states(lawn) == ["ready", "withdrawn"]


def test_the_same_notice_again_is_the_one_that_waits(desk, lawn, neighbours):
    tab = typed(lawn, "B. Lark")
    assert "instead of" not in desk.post(address(lawn), tab | {"do": "look"}).content.decode()
    for _ in range(2):
        send(desk, lawn, tab)
    assert states(lawn) == ["ready"]


def test_who_is_ticked_once_more_is_told_once_more_and_the_look_says_that_they_were(
    desk, lawn, neighbours, days_before
):
    send(desk, lawn, typed(lawn, "B. Lark"))
    become(lawn, State.SENT)
    assert "Tick to tell them once more." in desk.get(address(lawn)).content.decode()
    days_before.shift(60)
    tab = typed(lawn, "B. Lark", until="11:30")
    look = desk.post(address(lawn), tab | {"do": "look"}).content.decode()
    assert "There is a notice of this visit to them already: e-mail, made" in look
    send(desk, lawn, tab)
    assert states(lawn) == ["sent", "ready"]


def test_what_went_out_while_another_made_theirs_keeps_it_from_going_out(lawn, neighbours, office):
    made = pieces(lawn, "B. Lark")
    queue(lawn, pieces(lawn, "B. Lark", means="letter"), office.user)
    become(lawn, State.SENT)
    assert queue(lawn, made, office.user) == 0
    assert states(lawn) == ["sent"]


def test_what_came_to_the_wrong_address_keeps_nobody_from_being_told(lawn, neighbours, office):
    made = pieces(lawn, "B. Lark")
    queue(lawn, pieces(lawn, "B. Lark", means="letter"), office.user)
    Notice.objects.for_firm(lawn.firm).update(state=State.SENT, came_wrong=True)
    assert queue(lawn, made, office.user) == 1


def test_what_one_neighbour_was_told_keeps_no_other_from_being_told(lawn, neighbours, office):
    made = pieces(lawn, "C. Wren", "A. Marlowe")
    queue(lawn, pieces(lawn, "B. Lark"), office.user)
    become(lawn, State.SENT)
    assert queue(lawn, made, office.user) == 2
    assert {one.contact.name for one in Round(lawn).people if one.live} == {"A. Marlowe", "B. Lark", "C. Wren"}
