"""The sign page: answers, reasons, password, and what follows a signature."""

import json
import re
from datetime import datetime
from io import BytesIO
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.core.cache import cache
from django.urls import reverse
from pypdf import PdfReader

from compliance.pages.open_findings import opened
from compliance.services.password import TRIES
from compliance.services.signing import prepare
from records.document.edits import Edit
from records.models import Membership, Rig, SignedFollowUp, SignedRecord, Treatment, User
from records.record_files import record_file
from records.services.drafts import edit_draft
from records.services.keys import signing_key
from records.services.to_sign import Signer
from records.templatetags.treatments import moment
from shared.times import said_offset
from tests.compliance.papers.pdf import drawn_part
from tests.factories import PASSWORD


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def address(name: str, treatment: Treatment, **more: Any) -> str:
    return reverse(name, kwargs={"uuid": treatment.pk, **more})


@pytest.fixture
def filled_in(done, member) -> dict[str, Any]:
    prepared = prepare(done, Signer(member.user))
    keys = [each.key for each in opened(prepared.open_findings, [], "en", judged=False)]
    reasons = {f"reason-{number}": f"because {number}" for number in range(len(keys))}
    stated = {"revision": str(done.revision), "shown": prepared.shown, "password": PASSWORD}
    return {**stated, "finding": keys, **reasons}


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


def test_rules_about_one_absent_member_are_answered_in_one_box_and_each_keeps_its_answer(
    client, done, filled_in, member
):
    path = f"mixes[{done.document['mixes'][0]['id']}].applied"
    edit_draft(done, [Edit("none", path, None, done.revision)], member.user)
    findings = prepare(done, Signer(member.user)).open_findings
    lacking = [each for each in findings if each["about"][0] == "mixes[0].applied"]
    assert len({each["rule"] for each in lacking}) > 1
    page = client.get(address("sign", done))
    (box,) = (each for each in page.context["opened"] if lacking[0]["rule"] in each.key)
    said = page.content.decode()
    assert all(each["cite"] in said for each in lacking)
    reasons = {f"reason-{each.number}": f"because {each.number}" for each in page.context["opened"]}
    keys = [each.key for each in page.context["opened"]]
    form = {"finding": keys, "revision": str(done.revision), "shown": page.context["shown"]}
    client.post(address("sign", done), form | reasons | {"password": PASSWORD})
    record = record_file(SignedRecord.objects.for_firm(done.firm).get())["record"]
    given = {answer["rule"]: answer["reason"] for answer in record["answers"]}
    assert given.keys() == {each["rule"] for each in findings}
    assert {given[each["rule"]] for each in lacking} == {f"because {box.number}"}


def test_only_what_wants_no_answer_is_folded_away(client, done):
    text = client.get(address("sign", done)).content.decode()
    unfolded, innermost = text, r"(?s)<details(?:(?!<details).)*?</details>"
    while re.search(innermost, unfolded):
        unfolded = re.sub(innermost, "", unfolded)
    assert len(re.findall("<textarea", unfolded)) == len(re.findall("<textarea", text)) > 0
    assert 'name="password"' in unfolded
    assert "14 gal" not in unfolded
    assert "<summary>Met (" in text


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
        ({"reason-0": "x" * 2001}, "Keep the reason to 2,000 characters."),
        ({"shown": ""}, "What would be signed is not what you saw"),
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


def test_a_missing_reason_is_named_by_what_it_is_about_and_the_eye_goes_there(client, done, filled_in):
    page = client.post(address("sign", done), filled_in | {"reason-0": "  "})
    first = page.context["opened"][0]
    (fault,) = page.context["faults"]
    assert str(first.remarks[0].words) in str(fault.words)
    assert fault.control == "reason-0"
    assert re.search(r'<textarea id="reason-0"[^>]* autofocus', page.text)


def test_what_was_not_asked_yet_is_not_recorded_rather_than_none(client, ticked):
    rinsed = client.get(address("sign", ticked)).text.partition("<h3>Rinsed</h3>")[2]
    assert rinsed.lstrip().startswith('<p class="quiet">Not recorded</p>')


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
    assert f"{address('section', done, section='spray')}#i-mixes-" in text
    assert "Spray: Mix 1: Finished mix applied</a> “plenty" in text
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_form_that_makes_no_sense_is_refused_without_an_error(client, done, filled_in):
    odd = filled_in | {"finding": ["not json", "[1]"], "revision": "x"}
    assert client.post(address("sign", done), odd).status_code == 422


def test_what_was_renamed_while_the_page_was_open_is_shown_before_it_is_signed(client, done, filled_in):
    done.site.customer.name = "Somebody Else"
    done.site.customer.save()
    answer = client.post(address("sign", done), filled_in)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "What would be signed is not what you saw" in text
    assert "In the plan: A. Marlowe." in text
    assert "Now: Somebody Else." in text
    assert not SignedRecord.objects.for_firm(done.firm).exists()
    again = filled_in | {"shown": answer.context["shown"]}
    assert client.post(address("sign", done), again).status_code == 302


def test_the_draft_asks_about_a_changed_row_and_an_answer_closes_the_question(client, done):
    rig = Rig.objects.for_firm(done.firm).get()
    rig.tip = "80 degree flat fan"
    rig.save()
    path = f"equipment[{rig.pk}].tip"
    for page in ("treatment", "sign"):
        text = client.get(address(page, done)).content.decode()
        assert "Now: 80 degree flat fan." in text
        assert "Rig 2: " in text
    client.post(address("row_changes", done), {"take": path})
    done.refresh_from_db()
    assert done.document["equipment"][0]["tip"] == "80 degree flat fan"
    rig.tip = "65 degree flat fan"
    rig.save()
    assert "In the plan" not in client.get(address("treatment", done)).content.decode()


def test_the_plan_s_word_can_be_kept(client, done, member):
    member.person.phone = "+1 360 555 0199"
    member.person.save()
    path = f"people[{member.person.pk}].phone"
    assert "Now: +1 360 555 0199." in client.get(address("treatment", done)).content.decode()
    assert client.post(address("row_changes", done), {"keep": path, "from": "sign"})["Location"] == address(
        "sign", done
    )
    assert "Now: +1 360" not in client.get(address("treatment", done)).content.decode()


def test_the_second_of_two_signers_is_told_that_it_is_signed(client, done, filled_in, colleague):
    assert client.post(address("sign", done), filled_in).status_code == 302
    client.force_login(colleague.user)
    answer = client.post(address("sign", done), filled_in, follow=True)
    assert "Somebody else has signed this treatment meanwhile." in answer.content.decode()
    assert SignedRecord.objects.for_firm(done.firm).count() == 1


def test_a_damaged_key_is_said_on_the_page_and_nothing_is_signed(client, done, filled_in, settings):
    signing_key(done.firm)
    next(settings.KEY_DIR.iterdir()).write_text("no key")
    answer = client.post(address("sign", done), filled_in)
    assert answer.status_code == 503
    assert "signing key is missing or damaged" in answer.content.decode()
    assert not SignedRecord.objects.for_firm(done.firm).exists()


def test_a_follow_up_says_that_the_key_is_gone(client, signed, settings):
    next(settings.KEY_DIR.iterdir()).unlink()
    form = {"kind": "copy-given", "day": "2026-09-15", "time": "08:00", "password": PASSWORD}
    answer = client.post(address("follow_up", signed), form)
    assert answer.status_code == 422
    assert "signing key is missing or damaged" in answer.content.decode()


def test_what_is_not_done_yet_is_not_signed(client, done, filled_in):
    with time_machine.travel("2026-09-14T09:30:00-07:00", tick=False):
        client.logout()
        client.force_login(Membership.objects.for_firm(done.firm).get().user)
        answer = client.post(address("sign", done), filled_in)
    assert answer.status_code == 422
    assert "09:47" in answer.content.decode()


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


def test_page_and_sheet_say_who_signed_when_and_what_the_signature_means(client, signed):
    """21 CFR 11.50(a) and (b): printed name, date and time, and meaning, on screen and in print."""
    signature = SignedRecord.objects.for_firm(signed.firm).get().signature
    at = datetime.fromisoformat(signature["claimed_at"]).astimezone(ZoneInfo("America/Los_Angeles"))
    page = client.get(address("treatment", signed)).content.decode()
    assert f"Signed by {signature['by']}, " in page
    assert f"{at:%H:%M} {said_offset(at)}; received" in page
    assert "Version 1: Signed" in page
    drawn = client.get(address("record_sheet", signed, version=1, language="en")).content
    text = "".join(one.extract_text() for one in PdfReader(BytesIO(drawn)).pages)
    for said in (signature["by"], f"{at:%H:%M}", "meaning: signed"):
        assert said in text


@pytest.mark.parametrize("name", ["record_sheet", "check_sheet"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_papers_are_drawn_from_the_record(client, signed, name, language):
    answer = client.get(address(name, signed, version=1, language=language))
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
    assert answer["Content-Type"] == "application/pdf"
    assert signed.number in text
    again = client.get(address(name, signed, version=1, language=language)).content
    assert drawn_part(answer.content) == drawn_part(again)


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
    assert client.get(address("section", signed, section="arrive")).status_code == 200
    page = client.get(address("sign", signed))
    answers = {f"reason-{each.number}": "as before" for each in page.context["opened"]}
    keys = [each.key for each in page.context["opened"]]
    form = {"finding": keys, "revision": str(signed.revision), "shown": page.context["shown"]}
    form |= {"password": PASSWORD, **answers}
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


@pytest.mark.parametrize(("day", "time"), [("2026-09-14", "09:11"), ("2099-01-01", "08:00")])
def test_a_follow_up_of_before_the_work_or_still_to_come_is_refused_with_a_sentence(client, signed, day, time):
    form = {"kind": "note", "day": day, "time": time, "detail": "x", "password": PASSWORD}
    answer = client.post(address("follow_up", signed), form)
    assert answer.status_code == 422
    assert "A follow-up says what happened from the beginning of the work" in answer.text
    assert not SignedFollowUp.objects.for_firm(signed.firm).exists()


def test_page_and_sheet_say_when_it_happened_and_who_signed_it_when_by_the_name_of_then(client, signed, member):
    form = {"kind": "note", "day": "2026-09-15", "time": "08:03", "detail": "x", "password": PASSWORD}
    client.post(address("follow_up", signed), form)
    signature = SignedFollowUp.objects.for_firm(signed.firm).get().follow_up["signatures"][0]
    User.objects.filter(pk=member.user.pk).update(name="R. Osei-Brandt")
    page = " ".join(client.get(address("treatment", signed)).text.split())
    assert f"Signed by R. Osei, {moment(signature['claimed_at'])}" in page
    keys = {"uuid": signed.pk, "version": 1, "language": "en"}
    sheet = PdfReader(BytesIO(client.get(reverse("record_sheet", kwargs=keys)).content))
    words = "".join("".join(each.extract_text().split()) for each in sheet.pages)
    afterwards = words.split("Afterwards")[1]
    assert "2026-09-15,08:03(UTC-07:00)" in afterwards or "Sep15,2026,08:03(UTC-07:00)" in afterwards
    assert "R.Osei," in afterwards
    assert "Brandt" not in afterwards


def test_a_follow_up_that_is_sent_to_what_is_void_is_refused(client, signed, colleague):
    client.force_login(colleague.user)
    client.post(address("void", signed), {"reason": "Entered twice.", "password": PASSWORD})
    form = {"kind": "note", "day": "2026-09-15", "time": "08:00", "detail": "x", "password": PASSWORD}
    answer = client.post(address("follow_up", signed), form, follow=True)
    assert "changed this treatment meanwhile" in answer.text
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


@pytest.mark.parametrize("answer", ["no JSON", "[]", "null", "{}", '{"id": 1, "response": {}}', "[" * 3000])
def test_what_no_passkey_answered_signs_nothing(client, done, filled_in, answer):
    page = client.post(address("sign", done), filled_in | {"password": "", "credential": answer})
    assert page.status_code == 422
    assert "The passkey did not confirm it. Try again, or sign with your password." in page.text
    assert not SignedRecord.objects.for_firm(done.firm).exists()
