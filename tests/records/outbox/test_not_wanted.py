"""Who does not want a means is not told by it; the office alone writes that down, and takes it out again."""

import pytest
from django.urls import reverse

from records.models import Attempt, NotByMeans, Notice
from records.outbox.queueing import queue
from records.outbox.results import result
from records.outbox.sending import send_next
from tests.factories import MembershipFactory
from tests.records.auditing.entries import newest
from tests.records.outbox.pieces import piece

Kind = Attempt.Kind


@pytest.fixture
def office(client, firm):
    client.force_login(MembershipFactory(firm=firm, role="office", user__name="O. Fice").user)
    return client


@pytest.fixture
def asked(firm, member):
    return NotByMeans.objects.create(firm=firm, means="email", reached="sandoval@example.net", by=member.user)


def press_not_wanted(client, notice) -> int:
    where = reverse("notice_deed", kwargs={"uuid": notice.treatment_id, "notice": notice.pk})
    answer = client.post(where, {"deed": "not_wanted"})
    notice.refresh_from_db()
    return answer.status_code


def take_out(client, row):
    return client.post(reverse("wanted_again", kwargs={"row": row.pk}))


def test_a_crew_does_not_write_down_for_good_what_somebody_does_not_want(client, notice, member):
    client.force_login(member.user)
    page = client.get(reverse("notices_sent", kwargs={"uuid": notice.treatment_id})).content.decode()
    assert "Does not want it by this means" not in page
    assert press_not_wanted(client, notice) == 422
    assert notice.state == "ready"
    assert not NotByMeans.objects.for_firm(notice.firm).exists()


@pytest.mark.parametrize(
    ("happened", "state"), [([Kind.ACCEPTED], "sent"), ([Kind.BROKEN_OFF], "unsure"), ([], "refused")]
)
def test_what_has_gone_out_stays_so_where_the_person_wants_no_other(office, notice, happened, state):
    for kind in happened:
        result(notice, kind)
    press_not_wanted(office, notice)
    assert notice.state == state
    assert NotByMeans.objects.for_firm(notice.firm).get().by.name == "O. Fice"


def test_what_is_to_be_sent_again_is_not_sent_to_who_wants_no_other(office, notice):
    result(notice, Kind.BROKEN_OFF)
    result(notice, Kind.AGAIN)
    press_not_wanted(office, notice)
    assert (notice.state, send_next(notice.firm)) == ("refused", None)


def test_the_office_sees_who_wants_what_not_and_since_when(office, asked):
    NotByMeans.objects.create(firm=asked.firm, means="phone", reached="+13605550142")
    page = office.get(reverse("not_wanted")).content.decode()
    for words in ("sandoval@example.net", f"written down by {asked.by.name}", "said so on their own page"):
        assert words in page


def test_what_the_office_takes_out_is_told_that_way_again(office, asked, before, waiting, draft, member):
    take_out(office, asked)
    queue(draft, [piece()], member.user)
    assert Notice.objects.for_firm(draft.firm).get().state == "ready"


def test_that_one_was_taken_out_stands_in_who_did_what(office, asked):
    take_out(office, asked)
    entry = newest(asked.firm)
    assert (entry.kind, entry.by.name, entry.thing_id) == ("removed", "O. Fice", str(asked.pk))


def test_neither_a_crew_nor_a_stranger_takes_one_out(client, asked, member, stranger):
    stranger.role = "office"
    stranger.save()
    for other, status in ((member.user, 403), (stranger.user, 404)):
        client.force_login(other)
        assert take_out(client, asked).status_code == status
    assert NotByMeans.objects.for_firm(asked.firm).exists()
