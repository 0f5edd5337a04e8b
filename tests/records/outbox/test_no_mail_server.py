"""Without a mail server no e-mail counts as sent, and none is offered."""

import pytest
from django.core import mail
from django.core.checks import run_checks
from django.urls import reverse

from records.models import NoticeTask
from records.outbox.sending import send_next
from tests.factories import MembershipFactory

WARNING = "No mail server is set, so no e-mail goes out"


@pytest.fixture(autouse=True)
def shown_only(settings):
    settings.MAIL_GOES_OUT = False


def test_a_mail_that_is_only_shown_is_not_sent_and_a_task_for_the_office(notice):
    send_next(notice.firm)
    notice.refresh_from_db()
    assert (notice.state, notice.sent_at) == ("refused", None)
    assert notice.attempts.get().kind == "shown_only"
    assert [task.kind for task in NoticeTask.objects.for_firm(notice.firm)] == ["no_server"]
    assert len(mail.outbox) == 1


def test_the_page_of_what_was_sent_says_so(client, notice):
    client.force_login(MembershipFactory(firm=notice.firm, role="office").user)
    where = reverse("notices_sent", kwargs={"uuid": notice.treatment_id})
    send_next(notice.firm)
    page = client.get(where).content.decode()
    assert WARNING in page
    assert "Not sent: no mail server is set" in page


def test_whoever_starts_the_service_is_warned(settings):
    assert "project.W011" in {one.id for one in run_checks(tags=["database"], databases=[])}
    assert "project.W011" not in {one.id for one in run_checks()}
    settings.MAIL_GOES_OUT = True
    assert "project.W011" not in {one.id for one in run_checks(tags=["database"], databases=[])}
