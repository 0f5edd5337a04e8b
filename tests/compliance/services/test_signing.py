"""Signing with a check: the password, an answer to each open finding, and the check kept."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from uuid import uuid4

import pytest
import time_machine
from django.core.management import call_command
from django.db import transaction
from django.test import override_settings

from compliance.check import Check
from compliance.models import Determination, StoredCheck
from compliance.services.after_signing import sign_follow_up, void_treatment
from compliance.services.check import check_treatment
from compliance.services.password import TooManyTriesError, WrongPasswordError, confirm_password
from compliance.services.signing import (
    ReasonTooLongError,
    UnansweredError,
    prepare,
    sign_treatment,
)
from records import record_files, selectors
from records.document.edits import Edit
from records.models import SignedRecord, Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from tests.compliance.own import CALM, use_own
from tests.factories import PASSWORD

EVENING = datetime.fromisoformat("2026-09-14T17:30:00-07:00")


@pytest.fixture(autouse=True)
def evening_of_the_day():
    with time_machine.travel(EVENING, tick=False):
        yield


@pytest.fixture
def answers(done, member) -> list[dict]:
    findings = prepare(done, Signer(member.user)).open_findings
    return [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]


def test_each_open_required_finding_needs_a_reason(done, member, answers):
    assert len(answers) > 1
    with pytest.raises(UnansweredError) as refused:
        sign_treatment(done, member.user, PASSWORD, answers[1:])
    assert [each["rule"] for each in refused.value.findings] == [answers[0]["rule"]]
    blank = [{**answers[0], "reason": "  "}, *answers[1:]]
    with pytest.raises(UnansweredError):
        sign_treatment(done, member.user, PASSWORD, blank)
    assert SignedRecord.objects.for_firm(done.firm).count() == 0


def test_a_record_with_answers_is_signed_with_its_check(done, member, answers):
    record = sign_treatment(done, member.user, PASSWORD, answers)
    file = record_files.record_file(record)
    check = StoredCheck.objects.for_firm(done.firm).get()
    assert file["record"]["answers"] == answers
    assert file["record"]["check"]["digest"] == check.digest
    assert file["record"]["check"]["context_digest"] == check.stored["context"]
    assert check.stored["document"] == record.document_digest
    assert Treatment.objects.for_firm(done.firm).get().outcome == check.outcome == "not_met"


def test_a_check_is_put_in_its_stored_form_once_for_a_signature(done, member, answers, monkeypatch):
    made, stored = [], Check.stored
    monkeypatch.setattr(Check, "stored", lambda check: made.append(check) or stored(check))
    sign_treatment(done, member.user, PASSWORD, answers)
    assert len(made) == 1


def test_a_wrong_password_signs_nothing(done, member, answers):
    with pytest.raises(WrongPasswordError):
        sign_treatment(done, member.user, "not this one", answers)
    assert SignedRecord.objects.for_firm(done.firm).count() == 0


def test_after_five_wrong_passwords_the_right_one_has_to_wait(done, member, answers):
    for _ in range(5):
        with pytest.raises(WrongPasswordError):
            sign_treatment(done, member.user, "not this one", answers)
    with pytest.raises(TooManyTriesError):
        sign_treatment(done, member.user, PASSWORD, answers)


def test_wrong_passwords_are_counted_where_the_count_is_kept_in_the_database(done, member, answers):
    in_database = {"BACKEND": "django.core.cache.backends.db.DatabaseCache", "LOCATION": "tries"}
    with override_settings(CACHES={"default": in_database}):
        call_command("createcachetable")
        for _ in range(5):
            with pytest.raises(WrongPasswordError):
                sign_treatment(done, member.user, "not this one", answers)
        with pytest.raises(TooManyTriesError):
            sign_follow_up(done, member.user, PASSWORD, kind="copy-given", at=EVENING)


def test_a_password_is_not_looked_at_where_a_refusal_would_take_the_count_back(member):
    with pytest.raises(RuntimeError), transaction.atomic():
        confirm_password(member.user, PASSWORD)


def test_a_reason_longer_than_a_record_holds_is_refused(done, member, answers):
    with pytest.raises(ReasonTooLongError):
        sign_treatment(done, member.user, PASSWORD, [{**each, "reason": "x" * 2001} for each in answers])
    assert not SignedRecord.objects.for_firm(done.firm).exists()
    sign_treatment(done, member.user, PASSWORD, [{**each, "reason": "x" * 2000} for each in answers])


def test_a_double_submit_signs_once_and_stores_one_check(done, member, answers):
    first = sign_treatment(done, member.user, PASSWORD, answers, revision=done.revision)
    assert sign_treatment(done, member.user, PASSWORD, answers, revision=done.revision) == first
    assert StoredCheck.objects.for_firm(done.firm).count() == 1


def test_a_follow_up_has_the_record_checked_again(done, member, answers, django_capture_on_commit_callbacks):
    sign_treatment(done, member.user, PASSWORD, answers)
    with django_capture_on_commit_callbacks(execute=True):
        sign_follow_up(done, member.user, PASSWORD, kind="copy-given", at=EVENING)
    at_signing, after = StoredCheck.objects.for_firm(done.firm).order_by("occasion").reverse()
    assert (at_signing.occasion, after.occasion) == ("signing", "follow-up")
    assert at_signing.stored["document"] == after.stored["document"]
    assert at_signing.stored["context"] != after.stored["context"]


def test_a_void_record_needs_the_managers_password(done, member, colleague, answers):
    sign_treatment(done, member.user, PASSWORD, answers)
    with pytest.raises(WrongPasswordError):
        void_treatment(done, colleague.user, "not this one", "wrong house")
    assert void_treatment(done, colleague.user, PASSWORD, "wrong house").kind == "void"


def test_the_earlier_treatment_of_the_site_is_in_the_context(firm, done, member, plan, answers):
    sign_treatment(done, member.user, PASSWORD, answers)
    assert selectors.earlier_documents(done, done.day) == []
    ten_days_later = replace(plan, planned_at=plan.planned_at + timedelta(days=10))
    later = plan_treatment(firm, member.user, ten_days_later)
    assert [each["record"]["number"] for each in selectors.earlier_documents(later, later.day)] == [
        done.number
    ]
    findings = check_treatment(later).stored()["findings"]
    interval = [each for each in findings if each["rule"].endswith("/days_between")]
    # the label asks for 30 days between treatments of a surface; these are 10 days apart
    assert [each["outcome"] for each in interval] == ["not_met"]


def test_the_firms_policy_is_a_layer_of_its_own_where_it_is_in_force(done, member, firm):
    reading = {"at": "2026-09-14T09:20:00-07:00", "wind_speed": {"value": "9", "unit": "mph"}}
    edit_draft(done, [Edit("w", f"weather.readings[{uuid4()}]", reading, done.revision)], member.user)
    calm = replace(CALM, start="2026-09-01", until="2026-09-15", examples=())
    use_own(firm, calm)
    found = [each for each in check_treatment(done).stored()["findings"] if each["layer"] == "firm"]
    assert [(each["outcome"], each["level"], each["cite"]) for each in found] == [
        ("not_met", "advised", "firm policy, Calm only")
    ]
    use_own(firm, replace(calm, key="1", until="2026-09-14"))
    assert not [each for each in check_treatment(done).stored()["findings"] if each["layer"] == "firm"]


def test_the_firms_answer_to_an_open_question_closes_it(done, firm):
    question = check_treatment(done).stored()["questions"][0]["id"]
    Determination.objects.create(
        firm=firm, question=question, answer="no", by="J. Quill", valid_from=date(2026, 1, 1)
    )
    assert question not in [each["id"] for each in check_treatment(done).stored()["questions"]]


@pytest.mark.parametrize(
    ("hours_later", "sending"), [(20, "met"), (30, "not_met")], ids=["next noon", "a day and more"]
)
def test_what_a_device_made_in_time_and_sent_later_is_in_time_and_how_late_it_came_is_advice(
    done, member, answers, hours_later, sending
):
    with time_machine.travel(EVENING + timedelta(hours=hours_later), tick=False):
        record = sign_treatment(done, member.user, PASSWORD, answers, device_at=EVENING)
    stored = StoredCheck.objects.for_firm(done.firm).get().stored
    found = {each["rule"]: each for each in stored["findings"]}
    assert record.sections["timing"]["recorded_at"] == "2026-09-14T17:30:00-07:00"
    assert found["us-wa/deadline/same-day"]["outcome"] == "met"
    late = found["everywhere/sending/within-a-day"]
    assert (late["outcome"], late["level"]) == (sending, "advised")


def test_what_no_device_dates_was_made_when_it_came_in(done, member, answers):
    late = [{"rule": "us-wa/deadline/same-day", "about": ["timing.recorded_at"], "reason": "no signal"}]
    with time_machine.travel(EVENING + timedelta(hours=20), tick=False):
        record = sign_treatment(done, member.user, PASSWORD, [*answers, *late])
    assert record.sections["timing"]["recorded_at"] == "2026-09-15T13:30:00-07:00"
