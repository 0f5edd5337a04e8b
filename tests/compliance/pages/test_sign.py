"""The sign page: answers, reasons, password, and what follows a signature."""

import json
import re
from io import BytesIO
from typing import Any

import pytest
from django.core.cache import cache
from django.urls import reverse
from pypdf import PdfReader

from compliance.services.password import TRIES
from compliance.services.signing import prepare
from records.document.edits import Edit
from records.models import SignedFollowUp, SignedRecord, Treatment
from records.services.drafts import edit_draft
from records.services.to_sign import Signer
from tests.factories import PASSWORD


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def address(name: str, treatment: Treatment, **more: Any) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk, **more})


@pytest.fixture
def filled_in(done, member) -> dict[str, Any]:
    findings = prepare(done, Signer(member.user)).open_findings
    keys = [json.dumps([each["rule"], each["about"]]) for each in findings]
    reasons = {f"reason-{number}": f"because {number}" for number in range(len(keys))}
    return {"revision": str(done.revision), "password": PASSWORD, "finding": keys, **reasons}


@pytest.fixture
def signed(client, done, filled_in) -> Treatment:
    assert client.post(address("sign", done), filled_in).status_code == 302
    done.refresh_from_db()
    return done


def test_it_shows_the_answers_and_every_open_required_finding(client, done, filled_in):
    page = client.get(address("sign", done))
    text = page.content.decode()
    assert "14 gal" in text
    assert "R. Osei" in text
    assert [each.key for each in page.context["opened"]] == filled_in["finding"]


def test_a_signature_leads_to_number_digest_and_papers(client, signed):
    record = SignedRecord.objects.for_firm(signed.firm).get()
    text = client.get(address("signed", signed)).content.decode()
    assert signed.number in text
    assert record.digest in text
    assert address("record_sheet", signed, version=1, language="en") in text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"password": "not mine"}, "This is not your password."),
        ({"reason-0": "  "}, "Give a reason"),
        ({"revision": "0"}, "The draft was changed meanwhile."),
    ],
)
def test_what_is_missing_is_said_and_what_was_typed_is_kept(client, done, filled_in, change, says):
    answer = client.post(address("sign", done), filled_in | change)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert "because 1" in answer.content.decode()
    assert "<title>Error:" in answer.content.decode()
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_after_too_many_wrong_passwords_it_waits(client, done, filled_in):
    for _try in range(TRIES):
        client.post(address("sign", done), filled_in | {"password": "not mine"})
    answer = client.post(address("sign", done), filled_in)
    assert "wrong too often" in answer.content.decode()
    cache.clear()
    assert client.post(address("sign", done), filled_in).status_code == 302


def test_an_entry_that_could_not_be_read_is_mended_first(client, done, filled_in, member):
    path = f"mixes[{done.document['mixes'][0]['id']}].applied"
    edit_draft(done, [Edit("odd", path, "plenty", done.revision)], member.user)
    answer = client.post(address("sign", done), filled_in | {"revision": str(done.revision)})
    text = answer.content.decode()
    assert "could not be read" in text
    assert f"{address('section', done, section='after')}#i-mixes-" in text
    assert "After: Mix 1: Finished mix applied</a> “plenty" in text
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_form_that_makes_no_sense_is_refused_without_an_error(client, done, filled_in):
    odd = filled_in | {"finding": ["not json", "[1]"], "revision": "x"}
    assert client.post(address("sign", done), odd).status_code == 422


def test_a_signed_record_cannot_be_filled_in_or_signed_again(client, signed):
    for name, more in (("section", {"section": "mix"}), ("sign", {})):
        answer = client.get(address(name, signed, **more))
        assert answer["Location"] == address("treatment", signed)
    assert client.post(address("section", signed, section="mix"), {})["Location"] == address(
        "treatment", signed
    )


def test_the_record_s_page_keeps_reasons_and_findings(client, signed):
    text = client.get(address("treatment", signed)).content.decode()
    assert "because 0" in text
    assert "What was not checked" in text
    assert "help, not legal advice" in text


@pytest.mark.parametrize("name", ["record_sheet", "check_sheet"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_papers_are_drawn_from_the_record(client, signed, name, language):
    answer = client.get(address(name, signed, version=1, language=language))
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
    assert answer["Content-Type"] == "application/pdf"
    assert signed.number in text
    assert answer.content == client.get(address(name, signed, version=1, language=language)).content


def test_a_language_or_version_that_is_not_there_is_not_found(client, signed):
    assert client.get(address("record_sheet", signed, version=1, language="fr")).status_code == 404
    assert client.get(address("record_sheet", signed, version=2, language="en")).status_code == 404


def test_the_record_file_holds_the_check_that_was_signed(client, signed):
    file = json.loads(client.get(address("record_file", signed, version=1)).content)
    assert file["schema"] == "record-file/1"
    assert file["check"]["schema"] == "stored-check/1"


def test_a_correction_is_filled_in_and_signed_as_the_next_version(client, signed, member):
    client.post(address("correct", signed), {"reason": "The lot was misread."})
    signed.refresh_from_db()
    assert signed.state == "correcting"
    assert "The lot was misread." in client.get(address("treatment", signed)).content.decode()
    assert client.get(address("section", signed, section="site")).status_code == 200
    page = client.get(address("sign", signed))
    answers = {f"reason-{each.number}": "as before" for each in page.context["opened"]}
    keys = [each.key for each in page.context["opened"]]
    form = {"finding": keys, "revision": str(signed.revision), "password": PASSWORD, **answers}
    assert client.post(address("sign", signed), form)["Location"] == address("signed", signed)
    assert SignedRecord.objects.for_firm(signed.firm).filter(version=2, kind="corrected").exists()


def test_a_follow_up_is_signed_with_the_password(client, signed):
    form = {"kind": "copy-given", "day": "2026-09-15", "time": "08:00", "detail": "By e-mail."}
    refused = client.post(address("follow_up", signed), form | {"password": "not mine"})
    assert refused.status_code == 422
    assert "This is not your password." in refused.content.decode()
    client.post(address("follow_up", signed), form | {"password": PASSWORD})
    assert SignedFollowUp.objects.for_firm(signed.firm).get().follow_up["detail"] == "By e-mail."
    assert "By e-mail." in client.get(address("treatment", signed)).content.decode()


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_follow_up_on_a_day_that_no_document_takes_is_refused_with_a_sentence(client, signed, day):
    form = {"kind": "copy-given", "day": day, "time": "08:00", "password": PASSWORD}
    assert "Give a year from 1900 to 2199." in client.post(address("follow_up", signed), form).text
    assert not SignedFollowUp.objects.for_firm(signed.firm).exists()


def test_a_manager_makes_a_record_void_and_it_stays_in_the_register(client, signed, colleague):
    client.force_login(colleague.user)
    client.post(address("void", signed), {"reason": "Entered twice.", "password": PASSWORD})
    text = client.get(address("treatment", signed)).content.decode()
    assert "This record is void." in text
    assert "Entered twice." in text
    papers = re.findall(r'href="([^"]+-sheet-[a-z]+\.pdf)"', text)
    assert len(papers) == 4
    assert {client.get(paper).status_code for paper in papers} == {200}
    assert signed.number in client.get(reverse("register")).content.decode()
