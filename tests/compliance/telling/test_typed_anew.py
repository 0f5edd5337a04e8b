"""What is typed for a visit is part of what a law wants told: typed anew, people are told again."""

from dataclasses import replace
from datetime import timedelta

import pytest

from compliance.pages.telling_forms import line_name
from compliance.services.telling import Round, Visit
from compliance.services.visit_said import keep
from records.models import Notice
from records.outbox.sending import send_next
from records.services.planning import plan_treatment
from tests.compliance.telling.conftest import PLANNED
from tests.compliance.telling.test_changes import changed, newest, sent, tell
from tests.compliance.telling.test_prepare_page import address, typed

pytestmark = pytest.mark.django_db
COST, NUMBER = line_name("cost"), line_name("other: number of applications")


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


@pytest.fixture
def told(desk, lawn, neighbours, days_before):
    """The customer, whose law asks for cost and number, and Lark, whose law asks for neither."""
    desk.post(address(lawn), typed(lawn, "A. Marlowe", "B. Lark", do="send", **{COST: "$90", NUMBER: "2"}))
    sent(lawn)
    days_before.shift(timedelta(minutes=5))
    lawn.refresh_from_db()
    return lawn


def to_wren(desk, lawn, do="send", **more):
    values = {COST: "$90", NUMBER: "2"} | more
    assert desk.post(address(lawn), typed(lawn, "C. Wren", do=do, **values)).status_code in (200, 302)


def test_typed_alike_for_the_next_changes_nothing_for_who_was_told(desk, told):
    to_wren(desk, told)
    assert changed(told) == set()


@pytest.mark.parametrize("other", [{COST: "$120"}, {NUMBER: "3"}])
def test_another_cost_or_number_is_told_again_to_whom_a_law_wants_it_told(desk, told, other):
    to_wren(desk, told, **other)
    assert changed(told) == {"A. Marlowe"}
    states = {one.contact.name: one.telling.state for one in Round(told).people if one.telling.asks}
    assert states["A. Marlowe"] != "in-time"
    assert states["B. Lark"] == "in-time"


def test_who_is_told_of_it_anew_is_told_once(desk, told):
    to_wren(desk, told, **{COST: "$120"})
    again = typed(told, "A. Marlowe", do="send", **{COST: "$120", NUMBER: "2"})
    desk.post(address(told), again)
    assert "$120" in newest(told, "A. Marlowe").text
    assert changed(told) == set()


def test_who_is_told_of_it_in_the_same_round_is_told_once(desk, told):
    at_once = typed(told, "A. Marlowe", "C. Wren", do="send", **{COST: "$120", NUMBER: "2"})
    desk.post(address(told), at_once)
    assert "$120" in newest(told, "A. Marlowe").text
    assert changed(told) == set()


def test_a_line_left_blank_for_another_contradicts_nothing(desk, told):
    to_wren(desk, told, **{COST: ""})
    assert changed(told) == set()


def test_to_look_at_another_cost_changes_nothing_that_people_were_told(desk, told):
    to_wren(desk, told, do="look", **{COST: "$120"})
    assert changed(told) == set()
    assert desk.get(address(told)).context["visit"][COST].value() == "$90"


def test_mail_that_names_another_cost_than_is_typed_by_now_is_never_sent(desk, lawn, neighbours):
    desk.post(address(lawn), typed(lawn, "A. Marlowe", do="send", **{COST: "$90", NUMBER: "2"}))
    Notice.objects.for_firm(lawn.firm).update(state="ready", sent_at=None, gone_out=False)
    to_wren(desk, lawn, **{COST: "$120"})
    send_next(lawn.firm)
    assert newest(lawn, "A. Marlowe").state == "withdrawn"


@pytest.mark.parametrize(
    ("jurisdictions", "told_again"), [(["us", "us-ct"], {"B. Lark"}), (["us", "us-ny"], set())]
)
def test_until_when_the_work_lasts_is_told_again_where_a_law_wants_the_time_told(
    lawn, neighbours, office, member, plan, jurisdictions, told_again
):
    lawn.site.jurisdictions = jurisdictions
    lawn.site.save()
    visit = plan_treatment(lawn.firm, member.user, replace(plan, site=lawn.site, planned_at=PLANNED))
    early = Visit(PLANNED + timedelta(hours=2))
    keep(Round(visit), early)
    tell(visit, office, "B. Lark", visit=early)
    sent(visit)
    assert changed(visit) == set()
    keep(Round(visit), Visit(PLANNED + timedelta(hours=5)))
    assert changed(visit) == told_again
