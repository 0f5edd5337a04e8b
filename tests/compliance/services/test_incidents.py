"""Incidents: begun in one step, owed to whom the rules of the place name, in the document, closed."""

from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest
from django.core.exceptions import PermissionDenied

from compliance.services import incidents
from compliance.services.incidents import StillOwedError
from records.document.edits import Edit
from records.models import Incident, IncidentEntry, Treatment
from records.services.drafts import edit_draft
from records.services.incidents import ClosedError, add_entry, begin, open_again, write_facts
from shared import clock
from shared.quantities import Quantity
from tests.records.auditing.entries import entries, members, newest

NOW = datetime(2026, 9, 14, 16, 30, tzinfo=UTC)
KEY = UUID(int=7)
MASSACHUSETTS = "us-ma: 333 CMR 10.14(4)"
HOURS = 3600


@pytest.fixture(autouse=True)
def at_half_past_nine():
    with clock.at(NOW):
        yield


@pytest.fixture
def in_massachusetts(firm):
    firm.jurisdictions, firm.time_zone = ["us", "us-ma"], "America/New_York"
    firm.save()
    return firm


def began(member, kind="spill", treatment=None, **known) -> Incident:
    return begin(member.firm, member.user, uuid4(), kind, treatment, **known)


def document_of(treatment: Treatment) -> dict:
    return Treatment.objects.for_firm(treatment.firm).get(pk=treatment.pk).document


def test_it_is_begun_with_its_kind_alone_and_two_taps_begin_one(member, firm):
    made = begin(firm, member.user, KEY, "spill")
    assert (made.state, made.happened_at, made.known_at, made.begun_by) == ("open", NOW, NOW, member.user)
    assert begin(firm, member.user, KEY, "drift").kind == "spill"
    assert Incident.objects.for_firm(firm).count() == 1
    assert members(newest(firm, thing="records.incident")) == {"kind": (None, "spill")}


def test_who_only_inspects_begins_none(member, firm):
    member.role = "inspector"
    member.save()
    with pytest.raises(PermissionDenied):
        began(member)


def test_the_hours_run_from_when_the_firm_knew_and_not_from_when_it_happened(member, in_massachusetts):
    happened, known = datetime(2026, 9, 10, 12, tzinfo=UTC), datetime(2026, 9, 12, 12, tzinfo=UTC)
    spill = began(member, happened_at=happened, known_at=known)
    due = {duty.key: duty.due_at - known for duty in incidents.duties_of(spill)}
    assert due[MASSACHUSETTS].total_seconds() == 48 * HOURS  # 333 CMR 10.14(4): of its coming to your attention
    assert due["us: 40 CFR 302.6"].total_seconds() == 0


def test_who_is_told_hangs_on_the_kind_and_on_the_place_of_the_site(member, in_massachusetts, draft):
    said = lambda incident: {duty.key for duty in incidents.duties_of(incident)}  # noqa: E731
    assert said(began(member, "complaint")) == set()
    hurt = said(began(member, "exposure"))
    assert hurt == {MASSACHUSETTS, "us: 29 CFR 1904.39(a)(1)", "us: 29 CFR 1904.39(a)(2)"}
    at_the_site = said(began(member, "spill", draft))  # which lies in Washington
    assert at_the_site == {"us: 40 CFR 302.6", "us-wa: Department of Ecology, if you spill"}


def test_of_a_place_whose_pack_says_nothing_of_incidents_it_is_said_so(member, firm):
    firm.jurisdictions = ["us", "us-or", "us-or-lane"]
    firm.save()
    packs, silent = incidents.looked_at(began(member))
    assert ([pack.id for pack in packs], silent) == (["us"], ["us-or"])


def test_what_is_due_is_listed_until_each_report_is_answered_for(member, colleague, in_massachusetts, firm):
    damage = began(member, "property-damage")
    began(member, "complaint")
    (owed,) = incidents.due(firm, NOW)
    assert (owed.incident, [duty.key for duty in owed.duties]) == (damage, [MASSACHUSETTS])
    assert not incidents.late(owed.duties)
    with clock.at(datetime(2026, 9, 16, 16, 31, tzinfo=UTC)):
        assert incidents.late(owed.duties)
    incidents.answer(damage, member.user, "told", NOW, duty=MASSACHUSETTS, to="the department", how="by phone")
    assert incidents.due(firm, NOW) == []
    damage.refresh_from_db()
    assert damage.state == "reported"


def test_another_firms_incidents_are_not_due_here(member, stranger, in_massachusetts):
    began(member)
    assert incidents.due(stranger.firm, NOW) == []


def test_that_none_is_owed_needs_no_report_and_leaves_it_open(member, in_massachusetts, firm):
    damage = began(member, "property-damage")
    incidents.answer(damage, member.user, "not-owed", NOW, duty=MASSACHUSETTS, text="A scratch of an inch.")
    damage.refresh_from_db()
    assert (damage.state, incidents.due(firm, NOW)) == ("open", [])


def test_it_is_closed_by_a_manager_once_nothing_is_owed_and_takes_no_more(member, colleague, in_massachusetts):
    damage = began(member, "property-damage")
    with pytest.raises(StillOwedError):
        incidents.close(damage, colleague.user, "paid")
    incidents.answer(damage, member.user, "told", NOW, duty=MASSACHUSETTS, to="the department")
    with pytest.raises(PermissionDenied):
        incidents.close(damage, member.user, "paid")
    incidents.close(damage, colleague.user, "The gutter was replaced.")
    for refused in (
        lambda: add_entry(damage, member.user, "note", NOW, text="more"),
        lambda: write_facts(damage, member.user, {"description": "more"}),
    ):
        with pytest.raises(ClosedError):
            refused()
    open_again(damage, colleague.user, "They wrote again.")
    add_entry(damage, member.user, "note", NOW, text="more")
    kinds = [entry.kind for entry in IncidentEntry.objects.for_firm(damage.firm)]
    assert kinds == ["told", "closed", "opened", "note"]


def test_while_the_draft_is_open_it_stands_in_the_document_and_grows_there(member, draft):
    spill = began(member, "spill", draft)
    (item,) = document_of(draft)["incidents"]
    assert item == {"id": str(spill.pk), "kind": "spill", "at": "2026-09-14T09:30:00-07:00"}
    known = {"description": "A hose burst.", "amount": Quantity("2", "qt"), "action": "Soaked up."}
    write_facts(spill, member.user, {**known, "names": "B. Lark"})
    incidents.answer(spill, member.user, "told", NOW, duty="us: 40 CFR 302.6", to="the center")
    (item,) = document_of(draft)["incidents"]
    assert (item["description"], item["action"]) == ("A hose burst.", "Soaked up.")
    assert (item["reported_to"], item["reported_at"]) == ("the center", "2026-09-14T09:30:00-07:00")
    assert item["amount"] == {"value": "2", "unit": "qt"}
    assert "B. Lark" not in str(document_of(draft))


def test_what_the_form_says_of_it_stays_when_something_else_is_written_here(member, colleague, draft):
    spill = began(member, "spill", draft)
    write_facts(spill, member.user, {"description": "A hose burst."})
    where, now = f"incidents[{spill.pk}].description", Treatment.objects.for_firm(draft.firm).get(pk=draft.pk)
    edit_draft(now, [Edit("form", where, "The new hose burst.", now.revision)], colleague.user)
    write_facts(spill, member.user, {"description": "A hose burst.", "action": "Soaked up."})
    (item,) = document_of(draft)["incidents"]
    assert (item["description"], item["action"]) == ("The new hose burst.", "Soaked up.")


def test_what_was_taken_out_on_the_form_does_not_come_back(member, draft):
    spill = began(member, "spill", draft)
    now = Treatment.objects.for_firm(draft.firm).get(pk=draft.pk)
    edit_draft(now, [Edit("out", f"incidents[{spill.pk}]", None, now.revision)], member.user)
    write_facts(spill, member.user, {"description": "A hose burst."})
    assert not document_of(draft).get("incidents")


def test_who_did_what_has_the_facts_and_of_people_only_that_they_changed(member, firm):
    spill = began(member)
    write_facts(spill, member.user, {"amount": Quantity("2", "qt"), "names": "B. Lark", "affected": "a rash"})
    seen = members(newest(firm, thing="records.incident"))
    assert seen == {"amount": ("", "2 qt"), "names": (None, None), "affected": (None, None)}
    assert not any("Lark" in str(entry.changes) for entry in entries(firm))
