"""The customer gets their copy of what was signed, once, with what to look out for after the work."""

from datetime import datetime
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from compliance.services.signing import prepare, sign_treatment
from records.models import Notice, Treatment
from records.outbox.outdated import outdated
from records.outbox.sending import send_next
from records.services.to_sign import Signer
from tests.factories import PASSWORD

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed(done, member, days_before):
    days_before.move_to(datetime.fromisoformat("2026-09-14T18:00:00-07:00"))
    customer = done.site.customer
    customer.email = "marlowe@example.net"
    customer.save()
    findings = prepare(done, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, answers)
    return done


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


def at(name, treatment, **more):
    return reverse(name, kwargs={"uuid": treatment.pk, **more})


def words(content: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)


def test_the_copy_goes_with_the_record_sheet_and_what_comes_after_the_work(desk, signed):
    desk.post(at("send_copy", signed), {"means": "email", "language": "es"})
    notice = Notice.objects.for_firm(signed.firm).get()
    after, sheet = [bytes(one.kept.content) for one in notice.files.order_by("place")]
    assert (notice.to, notice.email, notice.languages) == ("customer", "marlowe@example.net", ["es"])
    assert notice.subject.startswith("Después de nuestra visita")
    assert signed.number in words(after)
    assert signed.number in words(sheet)


def test_the_copy_goes_out_however_long_ago_the_visit_was_to_be(desk, signed, mailoutbox):
    desk.post(at("send_copy", signed), {"means": "email", "language": "en"})
    send_next(signed.firm)
    assert [mail.to for mail in mailoutbox] == [["marlowe@example.net"]]
    assert Notice.objects.for_firm(signed.firm).get().state == "sent"


def test_a_second_press_sends_no_second_copy(desk, signed):
    for _ in range(2):
        desk.post(at("send_copy", signed), {"means": "email", "language": "en"})
    assert Notice.objects.for_firm(signed.firm).count() == 1


def test_the_page_says_what_is_on_its_way(desk, signed):
    desk.post(at("send_copy", signed), {"means": "email", "language": "en"})
    assert "After our visit" in desk.get(at("send_copy", signed)).content.decode()


def test_who_can_t_be_reached_by_a_means_is_sent_nothing_by_it(desk, signed):
    answer = desk.post(at("send_copy", signed), {"means": "phone", "language": "en"})
    assert answer.status_code == 422
    assert not Notice.objects.for_firm(signed.firm).exists()


def test_a_draft_has_a_paper_before_the_work_and_none_after_it(desk, draft):
    before = desk.get(at("customer_paper", draft, when="before", language="en"))
    assert "Before we come" in words(before.content)
    assert desk.get(at("customer_paper", draft, when="after", language="en")).status_code == 404


def test_a_stranger_finds_nothing(client, stranger, signed):
    client.force_login(stranger.user)
    assert client.get(at("send_copy", signed)).status_code == 404
    assert client.get(at("customer_paper", signed, when="after", language="en")).status_code == 404


def test_the_copy_of_a_record_that_was_stood_down_is_sent_and_is_no_visit_to_call_off(desk, signed):
    Treatment.objects.for_firm(signed.firm).update(result="stood-down")
    desk.post(at("send_copy", signed), {"means": "email", "language": "en"})
    copy = Notice.objects.for_firm(signed.firm).get()
    assert copy.state == "ready"
    signed.refresh_from_db()
    assert outdated(signed, [copy]) == []
