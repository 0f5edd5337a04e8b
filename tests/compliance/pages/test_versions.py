"""A correction stands beside what was signed before it, in words, with the findings of both."""

from uuid import uuid4

import pytest
from django.urls import reverse

from compliance.services.after_signing import void_treatment
from compliance.services.signing import UnansweredError, sign_confirmed
from records.document.edits import Edit
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from tests.factories import PASSWORD


def sign(treatment, user) -> None:
    try:
        sign_confirmed(treatment, user)
    except UnansweredError as error:
        answers = [{"rule": each["rule"], "about": each["about"], "reason": "so"} for each in error.findings]
        sign_confirmed(treatment, user, answers)


def corrected(treatment, user, reason, **values):
    draft = start_correction(treatment, user, reason)
    edits = [Edit(str(uuid4()), path, value, draft.revision) for path, value in values.items()]
    edit_draft(draft, edits, user)
    draft.refresh_from_db()
    sign(draft, user)
    return draft


@pytest.fixture
def versions(done, member):
    """Three versions: of the second the notes differ, and the finish of the work; of the third the notes."""
    edit_draft(done, [Edit("n", "notes", "dry all day", done.revision)], member.user)
    done.refresh_from_db()
    sign(done, member.user)
    finish = {"timing.finished_at": "2026-09-14T12:15:00-07:00", "notes": "drizzle at noon"}
    corrected(done, member.user, "the crew looked at the wrong line", **finish)
    return corrected(done, member.user, "the note again", notes="drizzle from noon on")


def page(client, treatment, version, **query) -> str:
    answer = client.get(reverse("version_changes", kwargs={"uuid": treatment.pk, "version": version}), query)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_each_member_that_differs_stands_with_both_values_in_the_words_of_the_form(client, versions, member):
    client.force_login(member.user)
    shown = page(client, versions, 2)
    for words in (
        '<h3>Notes</h3> <dl class="beside"> <div><dt>Version 1</dt><dd>dry all day</dd></div> '
        "<div><dt>Version 2</dt><dd><strong>drizzle at noon</strong></dd></div>",
        "<h3>Spraying finished</h3>",
        "12:15</strong>",
        "Why it was corrected: the crew looked at the wrong line",
    ):
        assert words in shown
    assert "finished_at" not in shown and "2026-09-14T" not in shown


def test_a_version_is_set_against_any_before_it(client, versions, member):
    client.force_login(member.user)
    assert "Spraying finished" not in page(client, versions, 3)
    assert "Spraying finished" in page(client, versions, 3, since=1)
    assert 'href="?since=1"' in page(client, versions, 3)


@pytest.mark.parametrize(("version", "since"), [(1, ""), (2, "2"), (2, "3"), (2, "0"), (9, "")])
def test_what_is_no_pair_of_versions_is_not_there(client, versions, member, version, since):
    client.force_login(member.user)
    where = reverse("version_changes", kwargs={"uuid": versions.pk, "version": version})
    assert client.get(where, {"since": since}).status_code == 404


def test_the_findings_that_were_signed_first_stay_beside_the_new_ones(client, versions, member):
    client.force_login(member.user)
    shown = page(client, versions, 2)
    assert shown.count("As checked on") == 2


def test_what_stands_beside_is_what_was_signed_and_not_what_is_found_now(client, versions, member):
    """The first version's check is shown as it was stored, though the draft that followed finished later."""
    client.force_login(member.user)
    first, second = page(client, versions, 2).split("<section>")[1:3]
    assert "dry all day" not in second and first.startswith("<h3>Version 1</h3>")
    assert second.startswith("<h3>Version 2</h3>")


def test_an_inspector_sees_both_versions_and_no_finding(client, versions, member):
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    shown = page(client, versions, 2)
    assert "drizzle at noon" in shown
    assert "What the rules said" not in shown


def test_a_record_that_was_made_void_says_so_and_that_nothing_else_differs(client, versions, colleague):
    void_treatment(versions, colleague.user, PASSWORD, "it was the neighbour's roof")
    client.force_login(colleague.user)
    shown = page(client, versions, 4)
    assert "This record is void.</strong> it was the neighbour&#x27;s roof" in shown
    assert "Both versions say the same of the work." in shown
    assert "No check is stored for this record." in shown


def test_the_record_leads_to_what_changed_in_each_version_but_the_first(client, versions, member):
    client.force_login(member.user)
    shown = client.get(reverse("treatment", kwargs={"uuid": versions.pk})).content.decode()
    for version in (2, 3):
        assert reverse("version_changes", kwargs={"uuid": versions.pk, "version": version}) in shown
    assert reverse("version_changes", kwargs={"uuid": versions.pk, "version": 1}) not in shown
