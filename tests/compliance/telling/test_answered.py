"""What people answer on their page changes how they are told next, and what the crew takes care of."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.services.telling import Round
from records.models import Attempt, NoticeTask
from records.outbox.person_says import answer, take_back
from records.outbox.results import result
from records.outbox.told import told_at
from records.services.planning import plan_treatment
from tests.compliance.telling.test_changes import newest, tell
from tests.factories import SiteFactory, SurfaceFactory
from tests.records.auditing.entries import entries

pytestmark = pytest.mark.django_db


@pytest.fixture
def lark(lawn, neighbours, office):
    neighbours[0].phone = "+1 516 555 0142"
    neighbours[0].save()
    tell(lawn, office, "B. Lark", "A. Marlowe")
    return told_at(newest(lawn, "B. Lark").token)


def ways(lawn, name="B. Lark"):
    return next(one.ways for one in Round(lawn).people if one.contact.name == name)


def test_what_came_to_the_wrong_address_goes_there_no_more_until_it_is_mended(lark, lawn, neighbours):
    answer(lark, NoticeTask.Kind.WRONG_ADDRESS, "")
    assert ways(lawn)[0] == "letter"
    assert ways(lawn, "A. Marlowe")[0] == "email"
    neighbours[0].email = "b.lark@example.net"
    neighbours[0].save()
    assert ways(lawn)[0] == "email"


def test_a_customers_wrong_address_counts_as_well(lark, lawn):
    answer(told_at(newest(lawn, "A. Marlowe").token), NoticeTask.Kind.WRONG_ADDRESS, "")
    assert "email" not in ways(lawn, "A. Marlowe")


def test_who_wants_to_be_called_is_on_the_list_so(lark, neighbours):
    answer(lark, NoticeTask.Kind.BY_PHONE, "after five")
    neighbours[0].refresh_from_db()
    assert neighbours[0].wishes_phone
    (entry,) = entries(neighbours[0].firm, thing_id=str(neighbours[0].pk))
    assert (entry.kind, entry.by, entry.reason, entry.changes) == ("changed", None, "answered", {})


def test_a_wrong_address_that_was_taken_back_is_used_again(lark, lawn):
    answer(lark, NoticeTask.Kind.WRONG_ADDRESS, "")
    take_back(lark, NoticeTask.Kind.WRONG_ADDRESS)
    assert ways(lawn)[0] == "email"


def test_the_crew_sees_where_to_take_care_and_no_name_of_whom(client, lark, lawn, member):
    answer(lark, NoticeTask.Kind.SENSITIVE, "B. Lark has asthma")
    client.force_login(member.user)
    page = client.get(reverse("notices", kwargs={"uuid": lawn.pk})).content.decode()
    said = page[page.index("Take care: 1 person") :].split("</div>")[0]
    assert "6 Heron Row" in said
    assert "Lark" not in said
    assert "asthma" not in page


def care(client, treatment) -> str:
    page = client.get(reverse("notices", kwargs={"uuid": treatment.pk})).content.decode()
    return page[page.index("Take care:") :].split("</div>")[0] if "Take care:" in page else ""


def test_who_is_sensitive_is_known_at_the_next_treatment_of_the_site(
    client, lark, lawn, plan, firm, member, office, neighbours
):
    answer(lark, NoticeTask.Kind.SENSITIVE, "")
    answer(told_at(newest(lawn, "A. Marlowe").token), NoticeTask.Kind.SENSITIVE, "")
    later = plan_treatment(firm, member.user, replace(plan, planned_at=lawn.planned_at + timedelta(days=60)))
    client.force_login(member.user)
    assert "Take care: 2 people" in care(client, later)
    assert "6 Heron Row" in care(client, later)
    take_back(lark, NoticeTask.Kind.SENSITIVE)
    assert "Take care: 1 person" in care(client, later)
    assert "6 Heron Row" not in care(client, later)


def test_the_office_sees_on_the_list_of_who_lives_near_who_is_sensitive(client, lark, lawn, office, member):
    where = reverse("neighbours", kwargs={"site": lawn.site_id})
    answer(lark, NoticeTask.Kind.SENSITIVE, "")
    client.force_login(office.user)
    assert client.get(where).content.decode().count("has said that they are sensitive") == 1
    client.force_login(member.user)
    assert "has said that they are sensitive" not in client.get(where).content.decode()


def test_what_came_back_from_an_address_is_no_default_at_the_next_treatment_until_something_arrives(
    lark, lawn, plan, firm, member, days_before
):
    result(newest(lawn, "B. Lark"), Attempt.Kind.REFUSED, "550 no such user")
    later = plan_treatment(firm, member.user, replace(plan, planned_at=lawn.planned_at + timedelta(days=60)))
    assert (ways(later)[0], ways(later)[-1]) == ("letter", "email")
    assert ways(later, "A. Marlowe")[0] == "email"
    days_before.shift(timedelta(days=1))
    tell(later, member, "B. Lark", means="email")
    result(newest(later, "B. Lark"), Attempt.Kind.ACCEPTED)
    assert ways(later)[0] == "email"


def test_what_came_back_is_no_default_either_where_it_was_withdrawn_then(lark, lawn):
    notice = newest(lawn, "B. Lark")
    result(notice, Attempt.Kind.REFUSED, "550 no such user")
    result(notice, Attempt.Kind.WITHDRAWN)
    assert (ways(lawn)[0], ways(lawn)[-1]) == ("letter", "email")


def test_what_was_withdrawn_before_it_was_tried_leaves_the_address_good(lark, lawn):
    result(newest(lawn, "B. Lark"), Attempt.Kind.WITHDRAWN)
    assert ways(lawn)[0] == "email"


@pytest.fixture
def elsewhere(lark, lawn, plan, firm, member):
    """A visit at another site of the same customer."""
    site = SiteFactory(firm=firm, customer=lawn.site.customer, line1="1 Far Lane")
    surfaces = [SurfaceFactory(site=site, firm=firm)]
    return plan_treatment(firm, member.user, replace(plan, site=site, surfaces=surfaces))


def test_a_customers_bad_address_is_no_default_at_their_other_sites(lark, lawn, elsewhere):
    assert ways(elsewhere, "A. Marlowe")[0] == "email"
    result(newest(lawn, "A. Marlowe"), Attempt.Kind.REFUSED, "550 no such user")
    assert ways(elsewhere, "A. Marlowe")[0] != "email"


def test_what_came_to_a_wrong_address_of_the_customer_does_not_go_there_for_their_other_sites(
    lark, lawn, elsewhere
):
    answer(told_at(newest(lawn, "A. Marlowe").token), NoticeTask.Kind.WRONG_ADDRESS, "")
    assert "email" not in ways(elsewhere, "A. Marlowe")
