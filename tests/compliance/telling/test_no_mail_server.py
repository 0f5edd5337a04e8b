"""Where no mail server is set, no e-mail is offered to anybody, and the pages say why."""

import pytest
from django.urls import reverse

from compliance.services.customer_copy import CustomerCopy
from compliance.services.telling import Round
from records.selectors import signed_record_of
from tests.compliance.telling.test_customer_copy import signed  # noqa: F401

pytestmark = pytest.mark.django_db
WARNING = "No mail server is set, so no e-mail goes out"


def offered(treatment) -> set[str]:
    return {way for one in Round(treatment).people for way in one.ways}


def test_no_one_is_offered_an_e_mail_that_would_reach_nobody(settings, lawn, neighbours):
    assert "email" in offered(lawn)
    settings.MAIL_GOES_OUT = False
    assert "letter" in offered(lawn)
    assert "email" not in offered(lawn)


def test_text_messages_are_offered_only_where_the_firm_has_a_sender_of_them(lawn, neighbours):
    neighbours[2].phone = "+1 516 555 0142"
    neighbours[2].save()
    assert "text-message" not in offered(lawn)
    lawn.firm.text_message_address = "https://texts.example.net/send"
    lawn.firm.save()
    assert "text-message" in offered(lawn)


def test_the_customers_copy_goes_by_letter_then(settings, signed):  # noqa: F811
    record = signed_record_of(signed.firm, signed.pk)
    assert CustomerCopy(record).ways == ("email", "letter")
    settings.MAIL_GOES_OUT = False
    assert CustomerCopy(record).ways == ("letter",)


def test_the_pages_on_which_an_e_mail_would_be_chosen_say_why_there_is_none(
    settings, client, office, lawn, neighbours
):
    client.force_login(office.user)
    pages = [reverse("prepare_notices", kwargs={"uuid": lawn.pk}), reverse("week_of_notices")]
    assert not any(WARNING in client.get(where).content.decode() for where in pages)
    settings.MAIL_GOES_OUT = False
    assert all(WARNING in client.get(where).content.decode() for where in pages)
