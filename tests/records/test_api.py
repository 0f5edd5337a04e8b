"""The document over HTTP."""

import pytest
import time_machine
from django.urls import reverse

from records.services.keys import signing_key
from shared import clock
from tests.factories import PASSWORD


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def address(name: str, treatment) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk})


def send(client, treatment, *edits):
    return client.post(address("api_edits", treatment), {"edits": list(edits)}, "application/json")


def an_edit(draft, value, path="notes", **more):
    return {"id": "e1", "path": path, "value": value, "base_revision": draft.revision, **more}


def test_the_document_is_read_with_its_revision(client, draft):
    answer = client.get(address("api_treatment", draft)).json()
    assert answer["document"] == draft.document
    assert (answer["revision"], answer["state"]) == (draft.revision, "draft")


def test_an_edit_is_applied_once_however_often_it_is_sent(client, draft):
    first, again = (send(client, draft, an_edit(draft, "Gate was locked.")).json() for _ in range(2))
    assert first["document"]["notes"] == "Gate was locked."
    assert again["revision"] == first["revision"]


def test_a_conflict_tells_both_values(client, draft):
    send(client, draft, an_edit(draft, "Gate was locked."))
    (conflict,) = send(client, draft, an_edit(draft, "Gate was open.", id="e2")).json()["conflicts"]
    assert (conflict["value"], conflict["current"]) == ("Gate was open.", "Gate was locked.")


def test_what_cannot_be_read_is_kept_as_typed(client, draft):
    path = f"mixes[{draft.document['mixes'][0]['id']}].applied"
    answer = send(client, draft, an_edit(draft, "plenty", path)).json()
    assert answer["unread"][path]["value"] == "plenty"


@pytest.mark.parametrize(
    "edit", [{}, {"id": "e"}, {"id": "e", "path": "notes", "value": 1, "base_revision": -1}]
)
def test_an_edit_that_is_none_is_refused(client, draft, edit):
    assert send(client, draft, edit).status_code == 400


def test_findings_that_need_a_reason_are_told_as_they_are_stored(client, done):
    with time_machine.travel(clock.now(), tick=False):
        to_sign = client.get(address("api_sign", done)).json()
        body = {"revision": done.revision, "shown": to_sign["shown"], "password": PASSWORD}
        told = client.post(address("api_sign", done), body, "application/json")
    assert told.status_code == 400
    assert told.json()["answers"] == to_sign["open_findings"]
    assert to_sign["open_findings"]


def test_what_is_written_from_rows_is_not_edited(client, draft):
    assert send(client, draft, an_edit(draft, "2026-9999", "record.number")).status_code == 409


def test_the_check_is_told(client, draft):
    check = client.get(address("api_check", draft)).json()
    assert check["schema"] == "stored-check/1"


def test_a_signature_needs_reasons_and_the_password(client, done):
    to_sign = client.get(address("api_sign", done)).json()
    body = {"revision": to_sign["revision"], "shown": to_sign["shown"], "password": PASSWORD}
    open_findings = client.post(address("api_sign", done), body, "application/json").json()["answers"]
    assert [each["rule"] for each in open_findings] == [each["rule"] for each in to_sign["open_findings"]]
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in open_findings
    ]
    wrong = client.post(
        address("api_sign", done), {**body, "answers": answers, "password": "no"}, "application/json"
    )
    assert [each["pointer"] for each in wrong.json()["errors"]] == ["#/password"]
    signed = client.post(address("api_sign", done), {**body, "answers": answers}, "application/json")
    assert signed.status_code == 201
    assert signed.json()["number"] == done.number
    assert send(client, done, an_edit(done, "late")).status_code == 409


def test_what_the_signer_was_not_shown_is_not_signed(client, done):
    to_sign = client.get(address("api_sign", done)).json()
    assert to_sign["document"]["customer"]["name"] == "A. Marlowe"
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "so"} for each in to_sign["open_findings"]
    ]
    body = {"revision": done.revision, "password": PASSWORD, "answers": answers}
    assert client.post(address("api_sign", done), body, "application/json").status_code == 400
    done.site.customer.name = "Somebody Else"
    done.site.customer.save()
    refused = client.post(address("api_sign", done), {**body, "shown": to_sign["shown"]}, "application/json")
    assert (refused.status_code, "Reference data" in refused.json()["detail"]) == (409, True)
    shown = client.get(address("api_sign", done)).json()["shown"]
    again = client.post(address("api_sign", done), {**body, "shown": shown}, "application/json")
    assert again.status_code == 201


@pytest.mark.parametrize("year", ["0001", "2001", "2090", "9999"])
def test_a_signature_claims_no_time_at_which_it_cannot_have_been_made(client, done, year):
    to_sign = client.get(address("api_sign", done)).json()
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "so"} for each in to_sign["open_findings"]
    ]
    body = {"revision": done.revision, "shown": to_sign["shown"], "password": PASSWORD, "answers": answers}
    answer = client.post(
        address("api_sign", done), {**body, "claimed_at": f"{year}-01-01T00:00:00Z"}, "application/json"
    )
    pointers = [each["pointer"] for each in answer.json()["errors"]]
    assert (answer.status_code, pointers) == (400, ["#/claimed_at"])


def test_a_missing_key_is_said_and_nothing_is_signed(client, done, member, settings):
    signing_key(done.firm)
    next(settings.KEY_DIR.iterdir()).unlink()
    to_sign = client.get(address("api_sign", done)).json()
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "so"} for each in to_sign["open_findings"]
    ]
    body = {"revision": done.revision, "shown": to_sign["shown"], "password": PASSWORD, "answers": answers}
    answer = client.post(address("api_sign", done), body, "application/json")
    assert (answer.status_code, "signing key" in answer.json()["detail"]) == (503, True)


def test_what_would_be_signed_goes_by_the_clock_of_the_device_that_made_it(client, done):
    with time_machine.travel("2026-09-15T09:00:00-07:00", tick=False):
        now, in_time, odd = (
            client.get(address("api_sign", done), moments)
            for moments in ({}, {"device_at": "2026-09-14T17:30:00-07:00"}, {"device_at": "yesterday"})
        )
    open_now, open_in_time = ({one["rule"] for one in told.json()["open_findings"]} for told in (now, in_time))
    assert open_now - open_in_time == {"us-wa/deadline/same-day"}
    assert in_time.json()["document"]["timing"]["recorded_at"] == "2026-09-14T17:30:00-07:00"
    assert odd.status_code == 400
