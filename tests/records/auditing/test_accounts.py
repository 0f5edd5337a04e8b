"""Signing in and out, failing to, and changes of what one signs in with."""

import pytest
from allauth.mfa.signals import authentication_failed, authenticator_added, authenticator_removed
from django.contrib.auth import authenticate
from django.urls import reverse

from compliance.services.password import TRIES, TooManyTriesError, WrongPasswordError, confirm_password
from records.models import AuditEntry, User
from tests.factories import PASSWORD, MembershipFactory, UserFactory
from tests.records.auditing.entries import entries, members, newest
from tests.records.programs.calling import program

ACCOUNT = "records.user"


def sign_in(client, email: str, password: str = PASSWORD) -> None:
    client.post(reverse("account_login"), {"login": email, "password": password})


def of_no_firm() -> list[AuditEntry]:
    return list(AuditEntry.across_firms.filter(firm=None).order_by("-pk"))


def test_signing_in_and_out_stands_in_the_firm(client, firm, member):
    sign_in(client, member.user.email)
    client.post(reverse("account_logout"))
    out, in_ = entries(firm, thing=ACCOUNT)[:2]
    assert (in_.kind, out.kind) == ("signed_in", "signed_out")
    assert in_.by == out.by == member.user


def test_a_wrong_password_stands_with_the_account_and_nobody_who_did_it(client, firm, member):
    sign_in(client, member.user.email.upper(), "not the password at all")
    entry = newest(firm)
    assert (entry.kind, entry.by, entry.reason) == ("sign_in_failed", None, "password")
    assert (entry.thing_id, entry.thing_name) == (str(member.user_id), member.user.name)


def test_an_address_without_an_account_is_not_kept(client, db):
    sign_in(client, "my-password-typed-here@example.net", "x")
    entry = of_no_firm()[0]
    assert (entry.kind, entry.by, entry.reason) == ("sign_in_failed", None, "no-account")
    assert "typed-here" not in f"{entry.thing_name} {entry.changes} {entry.page}"


def test_who_works_for_two_firms_is_seen_to_sign_in_by_both_and_who_ended_by_neither(client, firm, stranger):
    MembershipFactory(firm=firm, user=stranger.user)
    ended = MembershipFactory(firm=firm, active=False)
    client.force_login(stranger.user)
    client.force_login(ended.user)
    assert newest(firm).by == newest(stranger.firm).by == stranger.user
    assert [entry.by for entry in of_no_firm()] == [ended.user]


def test_a_second_step_that_fails_or_changes_stands(firm, member):
    told = {"sender": User, "request": None, "user": member.user, "authenticator": None}
    authentication_failed.send(**told)
    authenticator_added.send(**told)
    authenticator_removed.send(**told)
    stood = [(entry.kind, entry.reason) for entry in entries(firm, thing=ACCOUNT)]
    assert stood == [("access", "second-step")] * 2 + [("sign_in_failed", "second-step")]


def test_a_new_password_stands_without_old_and_new(client, firm, member):
    client.force_login(member.user)
    new = "another quite long password"
    typed = {"oldpassword": PASSWORD, "password1": new, "password2": new}
    client.post(reverse("account_change_password"), typed)
    entry = newest(firm, kind="access")
    assert (entry.by, entry.reason, entry.changes) == (member.user, "password", {})
    assert authenticate(email=member.user.email, username=member.user.email, password=new) == member.user


@pytest.mark.django_db(transaction=True)
def test_a_signature_that_is_refused_for_its_password_stands(firm, member):
    for _ in range(TRIES):
        with pytest.raises(WrongPasswordError):
            confirm_password(member.user, "not the password at all")
    with pytest.raises(TooManyTriesError):
        confirm_password(member.user, PASSWORD)
    reasons = [entry.reason for entry in entries(firm, kind="refused")]
    assert reasons == ["too-many-tries", *["signing-password"] * TRIES]


def test_an_account_that_the_machine_s_owner_changes_stands_in_its_firm(client, firm, member):
    owner = UserFactory(is_superuser=True)
    client.force_login(owner)
    where = reverse("admin:records_user_change", args=[member.user_id])
    assert client.get(where).status_code == 200
    assert newest(firm, kind="viewed").by == owner
    typed = {"email": "new@example.net", "name": "R. Osei", "language": "es", "is_active": "on"}
    assert client.post(where, typed).status_code == 302
    entry = newest(firm, kind="changed")
    assert members(entry) == {"email": (member.user.email, "new@example.net"), "language": ("en", "es")}
    new, token = "another quite long password", program(member).row
    password = reverse("admin:auth_user_password_change", args=[member.user_id])
    assert client.post(password, {"password1": new, "password2": new}).status_code == 302
    assert (newest(firm, kind="access").by, newest(firm, kind="access").changes) == (owner, {})
    assert (newest(firm).kind, newest(firm).thing_id, newest(firm).by) == ("removed", str(token.uuid), owner)


def test_a_new_account_by_the_machine_s_owner_stands_in_no_firm(client, db):
    client.force_login(UserFactory(is_superuser=True))
    typed = {"email": "n@example.net", "name": "N. Ewhire", "usable_password": "false"}
    assert client.post(reverse("admin:records_user_add"), typed).status_code == 302
    made = next(entry for entry in of_no_firm() if entry.kind == "created")
    assert made.thing_name == "N. Ewhire"


def test_what_belongs_to_no_firm_is_shown_to_the_machine_s_owner_alone(client, firm, member, colleague):
    sign_in(client, "nobody@example.net", "x")
    sign_in(client, member.user.email, "not the password at all")
    where = reverse("admin:records_auditentry_changelist")
    client.force_login(colleague.user)
    assert client.get(where).status_code == 403
    client.force_login(UserFactory(is_superuser=True))
    rows = client.get(where).context["cl"].queryset
    assert {row.firm for row in rows} == {None}
    (failed,) = [row for row in rows if row.kind == "sign_in_failed"]
    there = reverse("admin:records_auditentry_change", args=[failed.pk])
    assert client.get(there).status_code == 200
    assert client.post(there, {"reason": "another"}).status_code == 403
