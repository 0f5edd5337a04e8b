"""A draft is edited by path; nothing typed is lost, and what rows say now is asked, never taken silently."""

from decimal import Decimal

import pytest
from django.core.exceptions import PermissionDenied

from records.changes import changed_since_planning
from records.document.edits import Edit
from records.models import Person, Treatment, TreatmentEdit, TreatmentProduct
from records.services import drafts
from records.services.drafts import TRIES_WITHOUT_LOCK, NotADraftError, WrittenFromRowsError, edit_draft
from tests.factories import LicenceFactory, MembershipFactory


def reread(treatment: Treatment) -> Treatment:
    return Treatment.objects.for_firm(treatment.firm).get(pk=treatment.pk)


def test_an_edit_changes_document_columns_and_sums_in_one_go(done):
    treatment = reread(done)
    assert treatment.document["timing"]["started_at"] == "2026-09-14T09:12:00-07:00"
    assert treatment.result == "treated"
    assert treatment.revision == 4
    line = TreatmentProduct.objects.for_firm(done.firm).get()
    # amount x applied / mixed = 1.5 x 14 / 15 = 1.4 gal, and 1 gal = 3.785411784 L (NIST Handbook 44, app. C)
    assert line.applied_volume == Decimal("1.4") * Decimal("3.785411784")


def test_the_same_edit_sent_twice_is_kept_once(draft, member):
    edit = Edit("e-1", "notes", "dry moss", 0)
    assert edit_draft(draft, [edit], member.user).revision == 1
    assert edit_draft(draft, [edit], member.user).revision == 1
    assert TreatmentEdit.objects.for_firm(draft.firm).count() == 1


def test_two_edits_of_one_member_show_both_values(draft, member, colleague):
    edit_draft(draft, [Edit("mine", "notes", "dry moss", 0)], member.user)
    outcome = edit_draft(draft, [Edit("theirs", "notes", "wet moss", 0)], colleague.user)
    assert [(conflict.current, conflict.edit.value) for conflict in outcome.conflicts] == [
        ("dry moss", "wet moss")
    ]
    assert reread(draft).document["notes"] == "dry moss"


def test_an_edit_on_a_revision_that_never_was_overwrites_nobody(draft, member, colleague):
    edit_draft(draft, [Edit("theirs", "notes", "Gate open.", draft.revision)], colleague.user)
    outcome = edit_draft(draft, [Edit("mine", "notes", "Gate shut.", 999_999_999)], member.user)
    assert [(each.edit.value, each.current) for each in outcome.conflicts] == [("Gate shut.", "Gate open.")]
    assert reread(draft).document["notes"] == "Gate open."


def test_an_entry_that_does_not_parse_is_kept_as_typed(draft, member):
    path = f"surfaces[{draft.document['surfaces'][0]['id']}].treated_area"
    outcome = edit_draft(draft, [Edit("e-1", path, "3000 gal", 0)], member.user)
    assert outcome.unread[path]["fault"]["en"] == "expected an area, got 3000 gal"
    assert reread(draft).unread[path]["value"] == "3000 gal"
    assert reread(draft).document["surfaces"][0]["treated_area"]["value"] == "1341.64"


@pytest.mark.parametrize("path", ["record.number", "record.version", "firm.name", "site", "schema"])
def test_what_is_written_from_rows_cannot_be_typed(draft, member, path):
    with pytest.raises(WrittenFromRowsError):
        edit_draft(draft, [Edit("e-1", path, "9", 0)], member.user)
    assert reread(draft).revision == 0


def test_an_inspector_reads_and_edits_nothing(draft, firm):
    inspector = MembershipFactory(firm=firm, role="inspector")
    with pytest.raises(PermissionDenied):
        edit_draft(draft, [Edit("e-1", "notes", "x", 0)], inspector.user)


def test_a_stranger_edits_nothing(draft, stranger):
    with pytest.raises(PermissionDenied):
        edit_draft(draft, [Edit("e-1", "notes", "x", 0)], stranger.user)


def test_what_is_signed_is_no_draft(draft, member):
    Treatment.objects.for_firm(draft.firm).update(state="signed")
    with pytest.raises(NotADraftError):
        edit_draft(draft, [Edit("e-1", "notes", "x", 0)], member.user)


def test_an_untouched_draft_asks_nothing(draft):
    assert changed_since_planning(draft) == []


def test_a_changed_row_is_a_question_on_the_draft(draft, member):
    draft.site.customer.phone = "+1 360 555 0199"
    draft.site.customer.save()
    LicenceFactory(firm=draft.firm, person=member.person, number="CO-00999")
    changes = {change.path: change for change in changed_since_planning(draft)}
    assert set(changes) == {"customer.phone", f"people[{member.person.pk}].licences"}
    assert changes["customer.phone"].now == "+1 360 555 0199"
    assert "phone" not in reread(draft).document["customer"]


def test_what_the_crew_typed_is_no_question(draft, member):
    path = f"people[{member.person.pk}].role"
    edit_draft(draft, [Edit("e-1", path, "supervisor", 0)], member.user)
    assert Person.objects.for_firm(draft.firm).get().role == "applicator"
    assert changed_since_planning(draft) == []


@pytest.mark.parametrize("quicker", [0, 1, TRIES_WITHOUT_LOCK])
def test_edits_are_worked_out_without_the_lock_and_anew_where_somebody_was_quicker(
    draft, member, colleague, monkeypatch, quicker
):
    """`quicker` times a colleague's edit comes between reading and writing."""
    work_out, lock, steps = drafts.apply, drafts.lock, []

    def interrupted(*args):
        steps.append("work out")
        turn = steps.count("work out")
        if turn <= quicker:
            with monkeypatch.context() as colleagues:
                colleagues.setattr(drafts, "apply", work_out)
                colleagues.setattr(drafts, "lock", lock)
                edit_draft(reread(draft), [Edit(f"theirs {turn}", "targets", ["algae"], 0)], colleague.user)
        return work_out(*args)

    monkeypatch.setattr(drafts, "apply", interrupted)
    monkeypatch.setattr(drafts, "lock", lambda treatment: steps.append("lock") or lock(treatment))
    edit_draft(draft, [Edit("mine", "notes", "dry moss", 0)], member.user)
    without_lock = ["work out", "lock"] * min(quicker + 1, TRIES_WITHOUT_LOCK)
    assert steps == without_lock + ["lock", "work out"] * (quicker == TRIES_WITHOUT_LOCK)
    assert reread(draft).document["notes"] == "dry moss"
    assert draft.revision == reread(draft).revision == quicker + 1
