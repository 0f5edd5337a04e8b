"""What is planned, typed, signed, corrected, followed up, made void: each is one entry, with old and new."""

from datetime import timedelta

import pytest

from compliance.services.after_signing import follow_up_confirmed
from compliance.services.signing import prepare, sign_confirmed
from records.document.edits import Edit
from records.models import AuditEntry, DeviceKey, LogEntry, Seal, SignedRecord, Treatment
from records.services import audit
from records.services.corrections import drop_correction, start_correction
from records.services.device_keys import revoke
from records.services.drafts import edit_draft
from records.services.invitations import accept, account_for, begin_account, invite, link_of
from records.services.looking import look_at
from records.services.planning import plan_treatment
from records.services.signing import Attachments, sign, void
from records.services.to_sign import Signer
from shared.orm.append_only import AppendOnlyError
from tests.conftest import PLANNED_AT
from tests.factories import PASSWORD, MembershipFactory
from tests.furnished import furnish
from tests.records.auditing.entries import entries, members, newest


def signed(treatment, user) -> SignedRecord:
    findings = prepare(treatment, Signer(user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    return sign_confirmed(treatment, user, answers)


def test_a_plan_stands_with_who_planned_and_what(firm, draft, member):
    entry = newest(firm, thing="records.treatment")
    assert (entry.kind, entry.by, entry.by_name) == ("created", member.user, "R. Osei")
    assert (entry.thing_id, entry.thing_name) == (str(draft.pk), draft.number)
    assert members(entry)["targets"] == (None, ["moss"])


def test_a_save_of_the_form_is_one_entry_with_old_and_new_of_each_member(firm, draft, member):
    edit_draft(draft, [Edit("1", "notes", "windy", draft.revision)], member.user)
    before = len(entries(firm))
    again = [
        Edit("3", "notes", "calm", draft.revision),
        Edit("4", "timing.started_at", "2026-09-14T09:12:00-07:00", draft.revision),
    ]
    edit_draft(draft, again, member.user)
    entry = newest(firm)
    assert len(entries(firm)) == before + 1
    assert (entry.kind, entry.by) == ("changed", member.user)
    assert members(entry) == {
        "notes": ("windy", "calm"),
        "timing.started_at": (None, "2026-09-14T09:12:00-07:00"),
    }


def test_what_could_not_be_read_stands_as_it_was_typed(firm, draft, member):
    edit_draft(draft, [Edit("1", "timing.started_at", "quarter past", draft.revision)], member.user)
    assert members(newest(firm)) == {"timing.started_at": (None, "quarter past")}
    edit_draft(draft, [Edit("2", "timing.started_at", "half past", draft.revision)], member.user)
    assert members(newest(firm)) == {"timing.started_at": ("quarter past", "half past")}


def test_an_edit_that_came_before_is_not_noted_again(firm, draft, member):
    edit = Edit("1", "notes", "windy", draft.revision)
    edit_draft(draft, [edit], member.user)
    before = len(entries(firm))
    edit_draft(draft, [edit], member.user)
    assert len(entries(firm)) == before


def test_a_signature_stands_with_the_digest_of_what_was_signed(firm, done, member):
    record = signed(done, member.user)
    entry = newest(firm, kind="signed")
    assert (entry.by, entry.thing_id) == (member.user, str(record.pk))
    assert members(entry) == {"digest": (None, record.digest)}
    assert sign_confirmed(done, member.user, (), revision=record.revision) == record
    assert len(entries(firm, kind="signed")) == 1


def test_a_correction_stands_with_its_reason_from_beginning_to_signature(firm, done, member):
    first = signed(done, member.user)
    start_correction(done, member.user, "the lot was misread")
    begun = newest(firm)
    assert (begun.kind, begun.reason) == ("changed", "the lot was misread")
    assert members(begun) == {"state": ("signed", "correcting")}
    drop_correction(done, member.user)
    assert members(newest(firm)) == {"state": ("correcting", "signed")}
    start_correction(done, member.user, "the lot was misread")
    second = signed(Treatment.objects.for_firm(firm).get(pk=done.pk), member.user)
    entry = newest(firm, kind="signed")
    assert members(entry) == {"digest": (first.digest, second.digest)}
    assert entry.reason == "the lot was misread"


def test_a_follow_up_and_a_void_record_stand_with_what_and_why(firm, done, member, colleague):
    signed(done, member.user)
    later = PLANNED_AT + timedelta(hours=6)
    follow_up_confirmed(done, member.user, kind="incident", at=later, detail="a brown patch")
    entry = newest(firm, kind="followed_up")
    assert (members(entry)["kind"], members(entry)["detail"]) == ((None, "incident"), (None, "a brown patch"))
    void(done, "written twice", Signer(colleague.user))
    entry = newest(firm, kind="voided")
    assert (entry.by, entry.reason) == (colleague.user, "written twice")


def test_devices_and_looks_at_what_was_signed_on_them_stand(colleague):
    furnish(colleague)
    firm, user = colleague.firm, colleague.user
    key = DeviceKey.objects.create(firm=firm, by=user, device="Tablet", public=b"", digest="d")
    revoke(key, user)
    revoke(key, user)
    ended = entries(firm, kind="removed", thing="records.devicekey")
    assert [entry.thing_name for entry in ended] == ["Tablet"]
    seal = Seal.objects.for_firm(firm).get()
    fresh = Seal.objects.create(
        firm=firm, treatment=seal.treatment, key=key, by=user, document=b"{}", digest="1", value="",
        claimed_at=seal.claimed_at, device_at=seal.device_at, sent_at=seal.sent_at, asks=True,
    )  # fmt: skip
    look_at(fresh, user)
    assert [entry.by for entry in entries(firm, kind="looked_at")] == [user]


def test_an_invitation_stands_from_the_sending_to_the_password(firm, colleague):
    new = account_for("new@example.net", "N. Ewhire")
    asked = MembershipFactory(firm=firm, user=new, accepted_at=None, person=None)
    invite(asked, colleague.user)
    sent = newest(firm)
    assert (sent.kind, sent.by, sent.thing) == ("sent", colleague.user, "records.membership")
    begin_account(asked.pk, link_of(asked).rstrip("/").rsplit("/", 1)[1], PASSWORD)
    access, accepted = entries(firm)[:2]
    assert (accepted.kind, list(members(accepted))) == ("changed", ["accepted_at"])
    assert (access.kind, access.by, access.changes) == ("access", new, {})


def test_a_member_of_elsewhere_accepts_in_the_own_name(firm, stranger):
    asked = MembershipFactory(firm=firm, user=stranger.user, accepted_at=None, person=None)
    accept(asked.pk, link_of(asked).rstrip("/").rsplit("/", 1)[1], stranger.user)
    assert (newest(firm).kind, newest(firm).by) == ("changed", stranger.user)


@pytest.mark.parametrize("step", ["plan", "edit", "sign"])
def test_nothing_is_done_where_it_can_t_be_noted(firm, done, member, plan, monkeypatch, step):
    prepared = prepare(done, Signer(member.user))
    before = (
        Treatment.objects.for_firm(firm).count(), done.revision, SignedRecord.objects.for_firm(firm).count(),
        LogEntry.objects.for_firm(firm).count(),
    )  # fmt: skip

    def broken(self, **_values):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(audit.AuditEntry, "save", broken)
    steps = {
        "plan": lambda: plan_treatment(firm, member.user, plan),
        "edit": lambda: edit_draft(done, [Edit("n", "notes", "x", done.revision)], member.user),
        "sign": lambda: sign(
            done, prepared.document, Attachments(), Signer(member.user), revision=done.revision
        ),
    }
    with pytest.raises(RuntimeError, match="disk"):
        steps[step]()
    now = Treatment.objects.for_firm(firm).get(pk=done.pk)
    assert before == (
        Treatment.objects.for_firm(firm).count(), now.revision, SignedRecord.objects.for_firm(firm).count(),
        LogEntry.objects.for_firm(firm).count(),
    )  # fmt: skip


def test_an_entry_says_the_moment_by_the_clock_of_the_world_and_of_the_firm(firm, draft):
    entry = newest(firm)
    assert entry.at.utcoffset().total_seconds() == 0
    assert entry.zone == firm.time_zone == "America/Los_Angeles"
    assert entry.local == entry.at
    assert entry.local.utcoffset() != entry.at.utcoffset()


def test_an_entry_is_never_changed_or_removed(firm, draft):
    entry = newest(firm)
    with pytest.raises(AppendOnlyError):
        entry.save()
    with pytest.raises(AppendOnlyError):
        AuditEntry.objects.for_firm(firm).get(pk=entry.pk).delete()
