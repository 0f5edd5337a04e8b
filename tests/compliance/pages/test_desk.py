"""The manager's page: what harms most on top, in each group what is due first, and nothing that is done."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from compliance.models import RecordsRequest
from compliance.pages.desk.needs import Need, group
from compliance.services.incidents import answer, duties_of
from compliance.services.signing import prepare, sign_treatment
from records.models import Licence, Lot
from records.services.incidents import begin
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from tests.compliance.services.test_reports import in_california, signed  # noqa: F401 - fixtures
from tests.factories import PASSWORD, CalibrationFactory, LicenceFactory, RigFactory, StockMoveFactory
from tests.records.logged import sign_now

NOW = datetime(2026, 9, 16, 17, 0, tzinfo=UTC)


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    with clock.at(NOW):
        yield client


def needs(manager, key: str) -> list[tuple[str, bool]]:
    groups = manager.get(reverse("desk")).context["groups"]
    return [(each.what, each.late) for group in groups if group.key == key for each in group.needs]


def test_groups_stand_in_the_order_of_harm(manager):
    context = manager.get(reverse("desk")).context
    assert [each.key for each in (*context["groups"], *context["clear"])] == [
        "incidents", "lots", "findings", "requests", "notices", "unsigned", "lasting", "reports", "stock",
    ]  # fmt: skip


def test_of_a_group_what_is_late_comes_first_then_by_when_it_is_due_a_day_counting_whole():
    late, soon = NOW - timedelta(hours=1), NOW + timedelta(hours=1)
    made = [
        Need("none", "", "/"),
        Need("day", "", "/", due=NOW.date()),
        Need("soon", "", "/", due=soon),
        Need("late", "", "/", due=late, late=True),
    ]
    assert [each.what for each in group("k", "t", made).needs] == ["late", "soon", "day", "none"]


def test_of_many_the_first_are_shown_and_how_many_more_there_are():
    many = [Need(str(n), "", "/", due=NOW + timedelta(days=n)) for n in range(13)]
    shown = group("k", "t", reversed(many))
    assert ([each.what for each in shown.needs], shown.more) == ([str(n) for n in range(10)], 3)


def test_a_record_that_nobody_signed_waits_here_and_is_late_after_a_day(manager, done, member):
    said = f"{done.number} · {done.site_name}"
    with clock.at(datetime(2026, 9, 14, 15, 0, tzinfo=UTC)):
        assert needs(manager, "unsigned") == []
    with clock.at(datetime(2026, 9, 15, 15, 0, tzinfo=UTC)):
        assert needs(manager, "unsigned") == [(said, False)]
    assert needs(manager, "unsigned") == [(said, True)]
    sign_now(done, member)
    assert needs(manager, "unsigned") == []


def test_a_request_is_here_until_it_is_closed(manager, firm, colleague):
    given = {
        "firm": firm, "asked_by": "regulator", "received_at": NOW, "means": "letter", "asked_for": "All.",
        "handled_by": colleague.user,
    }  # fmt: skip
    late = RecordsRequest.objects.create(name="M. Reyes", due_at=NOW - timedelta(hours=1), **given)
    RecordsRequest.objects.create(name="Sample Mutual", **given)
    RecordsRequest.objects.create(name="B. Lark", due_at=NOW + timedelta(days=3), **given)
    assert needs(manager, "requests") == [("M. Reyes", True), ("B. Lark", False), ("Sample Mutual", False)]
    late.closed_at = NOW
    late.save()
    assert [what for what, _late in needs(manager, "requests")] == ["B. Lark", "Sample Mutual"]


def test_who_treats_a_person_stands_before_all_other_requests(manager, firm, colleague):
    given = {"firm": firm, "received_at": NOW, "means": "phone", "asked_for": "All."}
    given["handled_by"] = colleague.user
    late = NOW - timedelta(days=1)
    RecordsRequest.objects.create(name="M. Reyes", asked_by="regulator", due_at=late, **given)
    RecordsRequest.objects.create(name="Dr. Example", asked_by="medical", **given)
    assert needs(manager, "requests") == [("Dr. Example", False), ("M. Reyes", True)]
    assert "told at once, by phone: All." in manager.get(reverse("desk")).content.decode()


def test_a_signed_record_with_a_duty_not_met_is_here_with_the_rule_until_it_is_void(
    manager, firm, member, colleague, done
):
    with clock.at(NOW + timedelta(days=60)):  # signed late, which is what a manager must see
        found = prepare(done, Signer(member.user)).open_findings
        answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in found]
        sign_treatment(done, member.user, PASSWORD, answers)
        (shown,) = [
            need
            for group in manager.get(reverse("desk")).context["groups"]
            if group.key == "findings"
            for need in group.needs
        ]
    with clock.at(NOW + timedelta(days=91)):
        assert needs(manager, "findings") == []
    assert done.number in shown.what
    assert shown.about
    assert "/" not in shown.about, "a rule is told by its title"
    done.refresh_from_db()
    with clock.at(NOW + timedelta(days=61)):
        void(done, "it was the neighbour's roof", Signer(colleague.user))
        assert needs(manager, "findings") == []


def test_a_licence_that_ends_soon_is_here_until_it_is_renewed_and_of_who_left_never(manager, firm):
    ending = LicenceFactory(firm=firm, number="CO-1", valid_to=date(2026, 10, 1))
    LicenceFactory(
        firm=firm, number="CO-2", person=None, kind="commercial applicator", valid_to=date(2026, 9, 1)
    )
    LicenceFactory(firm=firm, number="CO-3", valid_to=date(2026, 12, 31))
    LicenceFactory(firm=firm, number="CO-4", valid_to=None)
    LicenceFactory(firm=firm, number="CO-5", valid_to=date(2026, 9, 20), person__active=False)
    assert needs(manager, "lasting") == [
        ("commercial applicator CO-2", True), ("commercial operator CO-1", False),
    ]  # fmt: skip
    Licence.objects.create(
        firm=firm, person=ending.person, authority="us-wa", kind="Commercial operator", number="CO-6",
        valid_to=date(2027, 12, 31),
    )  # fmt: skip
    assert [what for what, _late in needs(manager, "lasting")] == ["commercial applicator CO-2"]


def test_a_rig_whose_output_was_not_measured_for_a_year_is_here_and_one_out_of_use_is_not(manager, firm):
    CalibrationFactory(firm=firm, rig__name="Rig 1", on=date(2026, 9, 1))
    CalibrationFactory(firm=firm, rig__name="Rig 2", on=date(2025, 9, 1))
    CalibrationFactory(firm=firm, rig__name="Rig 3", on=date(2025, 10, 1))
    CalibrationFactory(firm=firm, rig__name="Rig 4", on=date(2024, 9, 1), rig__active=False)
    RigFactory(firm=firm, name="Rig 5")
    assert needs(manager, "lasting") == [
        ("Measure the output of Rig 2", True),
        ("Measure the output of Rig 3", False),
        ("Measure the output of Rig 5", False),
    ]


def test_a_report_that_is_owed_is_here_and_late_after_its_day(manager, signed):  # noqa: F811
    assert needs(manager, "reports") == []
    with clock.at(datetime(2026, 10, 10, 17, 0, tzinfo=UTC)):
        assert needs(manager, "reports") == [("Monthly summary to the county", False)]
    with clock.at(datetime(2026, 10, 11, 17, 0, tzinfo=UTC)):
        assert needs(manager, "reports") == [("Monthly summary to the county", True)]


def test_an_incident_is_here_until_somebody_has_answered_for_each_report(manager, firm, colleague, draft):
    incident = begin(firm, colleague.user, uuid4(), "spill", draft)
    ((what, late),) = needs(manager, "incidents")
    assert late and what.startswith("Spill, Sept. 16, 2026")
    assert what.endswith(f"{draft.number} · {draft.site_name}")
    page = manager.get(reverse("desk")).content.decode()
    (first, *_others) = duties = duties_of(incident)
    assert "May have to be told" in page and first.report.binds.say("en")[:40] in page
    assert page.count(first.report.to.say("en")) == 1 < len(duties)
    for duty in duties_of(incident):
        answer(incident, colleague.user, "not-owed", NOW, duty=duty.key, text="a cup on hard ground")
    assert needs(manager, "incidents") == []


def test_a_lot_that_does_not_add_up_is_here(manager, plan, colleague):
    lot = Lot.objects.for_firm(plan.site.firm).get(number="L-0457")
    assert needs(manager, "stock") == []
    StockMoveFactory(lot=lot, amount="3 gal", by=colleague.user)
    assert needs(manager, "stock") == [("Sample Moss Wash, L-0457", False)]
    assert "2 gal too little" in manager.get(reverse("desk")).content.decode()


def test_nothing_of_another_firm_is_here(client, stranger, signed, done):  # noqa: F811
    client.force_login(stranger.user)
    with clock.at(NOW):
        page = client.get(reverse("desk"))
    assert page.context["groups"] == []
    assert "Nothing waits for you." in page.content.decode()


@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_it_is_a_manager_s_page(client, member, role):
    member.role = role
    member.save()
    client.force_login(member.user)
    assert client.get(reverse("desk")).status_code == 403
