"""A person declares once that their signature binds them; tries that failed are told the managers at once."""

from datetime import timedelta

import pytest
import time_machine
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils.html import escape

from compliance.services.password import TooManyTriesError, WrongPasswordError, confirm_password
from records.models import MisuseAlert, SignatureDeclaration, SignedFollowUp, SignedRecord
from records.services.declaring import DECLARATION, declaration_of, declare
from records.services.misuse import TRIES, alerts_of, look_at_alert
from shared import clock
from tests.factories import PASSWORD, MembershipFactory
from tests.records.auditing.entries import entries, newest
from tests.records.logged import sign_now


@pytest.fixture
def undeclared(firm):
    return MembershipFactory(firm=firm, role="manager", declared=False)


def wrong_passwords(user, many: int = TRIES) -> None:
    for _ in range(many):
        with pytest.raises((WrongPasswordError, TooManyTriesError)):
            confirm_password(user, "not the password at all")


def signature(client, treatment, **more):
    shown = client.get(reverse("sign", kwargs={"uuid": treatment.pk}))
    boxes = {f"reason-{number}": "so" for number in range(len(shown.context["opened"]))}
    form = {
        "finding": [each.key for each in shown.context["opened"]],
        "revision": str(treatment.revision),
        "shown": shown.context["shown"],
        "password": PASSWORD,
        **boxes,
        **more,
    }
    return shown, client.post(reverse("sign", kwargs={"uuid": treatment.pk}), form)


def test_nothing_is_signed_before_the_declaration_which_is_asked_once_and_kept(client, firm, done, undeclared):
    client.force_login(undeclared.user)
    shown, refused = signature(client, done)
    assert escape(DECLARATION.say("en")) in shown.content.decode()
    assert refused.status_code == 422
    assert "Say first that your signature binds you." in refused.content.decode()
    assert not SignedRecord.objects.for_firm(firm).exists() and declaration_of(firm, undeclared.user) is None
    _shown, signed = signature(client, done, declares="yes")
    assert signed.status_code == 302
    kept = SignatureDeclaration.objects.for_firm(firm).get(by=undeclared.user)
    assert kept.words == DECLARATION.say("en")
    assert "declared" in [entry.kind for entry in entries(firm)]


def test_a_password_that_does_not_fit_declares_nothing(client, firm, done, undeclared):
    client.force_login(undeclared.user)
    signature(client, done, declares="yes", password="not the password at all")
    assert declaration_of(firm, undeclared.user) is None


def test_who_has_declared_is_not_asked_again(client, done, member):
    client.force_login(member.user)
    shown, signed = signature(client, done)
    assert 'name="declares"' not in shown.content.decode()
    assert signed.status_code == 302


@pytest.mark.parametrize("name", ["follow_up", "void"])
def test_what_is_signed_later_asks_for_it_too(client, firm, done, member, undeclared, name):
    sign_now(done, member)
    client.force_login(undeclared.user)
    where = reverse(name, kwargs={"uuid": done.pk})
    form = {"kind": "note", "day": "2026-09-15", "time": "09:00", "reason": "wrong roof", "password": PASSWORD}
    assert client.post(where, form).status_code == 422
    assert not SignedFollowUp.objects.for_firm(firm).exists()
    assert client.post(where, {**form, "declares": "on"}).status_code == 302
    assert declaration_of(firm, undeclared.user)


def test_no_key_of_a_device_is_made_before_it(client, undeclared):
    client.force_login(undeclared.user)
    page = client.get(reverse("devices")).content.decode()
    assert reverse("declaration") in page
    answer = client.post(reverse("devices"), {"device": "blue phone", "password": PASSWORD})
    assert answer.json()["fault"] == "Say first that your signature binds you."


def test_over_http_the_first_signature_says_so(client, done, undeclared):
    client.force_login(undeclared.user)
    where = reverse("api_sign", kwargs={"uuid": done.pk})
    to_sign = client.get(where).json()
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "so"} for each in to_sign["open_findings"]
    ]
    body = {**to_sign, "password": PASSWORD, "answers": answers}
    assert client.post(where, body, "application/json").status_code == 409
    assert client.post(where, {**body, "declares": True}, "application/json").status_code == 201


def test_it_can_be_declared_and_read_under_the_account(client, firm, undeclared):
    client.force_login(undeclared.user)
    where = reverse("declaration")
    assert where in client.get(reverse("account")).content.decode()
    client.post(where, headers={"accept-language": "es"})
    client.post(where)
    (row,) = SignatureDeclaration.objects.for_firm(firm).filter(by=undeclared.user)
    assert row.words == DECLARATION.say("es")
    assert f"Declared by {undeclared.user.name}" in client.get(where).content.decode()


def test_who_may_not_sign_declares_nothing(firm):
    office = MembershipFactory(firm=firm, role="office", declared=False)
    with pytest.raises(PermissionDenied):
        declare(firm, office.user, "en")


def test_several_wrong_passwords_at_a_signature_are_told_the_managers_at_once(client, firm, member, colleague):
    wrong_passwords(member.user, TRIES - 1)
    assert not alerts_of(firm)
    wrong_passwords(member.user, 1)
    (alert,) = alerts_of(firm)
    assert (alert.user, alert.tries) == (member.user, TRIES)
    told = newest(firm)
    assert (told.kind, told.thing_id, told.reason) == ("reported", str(member.user_id), "misuse")
    client.force_login(colleague.user)
    page = client.get(reverse("home")).content.decode()
    assert f"{TRIES} tries with the password, passkey or second step of {member.user.name} failed" in page
    client.force_login(member.user)
    assert "tries with the password" not in client.get(reverse("home")).content.decode()


def test_the_managers_get_a_mail_in_the_firms_language(
    firm, member, colleague, mailoutbox, django_capture_on_commit_callbacks
):
    firm.language = "es"
    firm.save()
    with django_capture_on_commit_callbacks(execute=True):
        wrong_passwords(member.user)
    (mail,) = mailoutbox
    assert mail.to == [colleague.user.email]
    assert mail.subject == f"Intentos fallidos con la cuenta de {member.user.name}"


def test_a_mail_server_that_is_silent_keeps_nobody_from_signing_in(
    firm, member, colleague, monkeypatch, django_capture_on_commit_callbacks
):
    def fails(*_arguments: object) -> None:
        raise ConnectionRefusedError

    monkeypatch.setattr("records.services.misuse.send_mail", fails)
    with django_capture_on_commit_callbacks(execute=True):
        wrong_passwords(member.user)
    assert alerts_of(firm).count() == 1


def test_failed_sign_ins_count_with_them_and_an_address_of_nobody_does_not(client, firm, member):
    for address in [member.user.email] * 3 + ["nobody@example.net"] * 3:
        client.post(reverse("account_login"), {"login": address, "password": "not the password at all"})
    assert not alerts_of(firm)
    wrong_passwords(member.user, 2)
    assert alerts_of(firm).count() == 1


def test_tries_of_other_people_or_of_long_ago_make_no_alert(firm, member, colleague):
    with time_machine.travel(clock.now() - timedelta(hours=2), tick=False):
        wrong_passwords(member.user, TRIES - 1)
    wrong_passwords(member.user, 2)
    wrong_passwords(colleague.user, TRIES - 1)
    assert not alerts_of(firm)


def test_the_same_tries_are_told_once_and_as_many_again_once_more(firm, member):
    wrong_passwords(member.user, TRIES + 1)
    assert alerts_of(firm).count() == 1
    wrong_passwords(member.user, TRIES - 1)
    assert alerts_of(firm).count() == 2


def test_a_manager_ticks_it_off_once_and_who_is_none_does_not(client, firm, member, colleague, stranger):
    wrong_passwords(member.user)
    (alert,) = alerts_of(firm)
    where = reverse("look_at_alert", kwargs={"uuid": alert.pk})
    for other, status in ((member, 403), (stranger, 404)):
        other.role = "manager" if other == stranger else other.role
        other.save()
        client.force_login(other.user)
        assert client.post(where).status_code == status
    with pytest.raises(PermissionDenied):
        look_at_alert(alert, member.user)
    client.force_login(colleague.user)
    for _ in range(2):
        assert client.post(where)["Location"] == reverse("home")
    assert not alerts_of(firm)
    assert MisuseAlert.objects.for_firm(firm).get().look.by == colleague.user
    assert [entry.kind for entry in entries(firm)].count("looked_at") == 1
