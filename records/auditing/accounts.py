"""Signing in and out, failing to, and changes of what one signs in with, as the sign-in libraries tell them.

Django's own signals are heard where it has them: they come whichever page a person signs in by.
"""

from typing import Any

from allauth.account.signals import password_changed, password_reset, password_set
from allauth.mfa.signals import (
    authentication_failed,
    authenticator_added,
    authenticator_removed,
    authenticator_reset,
)
from django.contrib import messages
from django.contrib.auth.signals import user_logged_in, user_logged_out, user_login_failed
from django.utils.translation import gettext as _

from records.models import AuditEntry, User
from records.services.audit import Thing, note, note_of_account
from records.services.misuse import watch
from records.services.programs import end_tokens_of

Kind = AuditEntry.Kind
UNKNOWN_ACCOUNT = Thing(User._meta.label_lower)


def connect() -> None:
    heard = {
        user_logged_in: signed_in,
        user_logged_out: signed_out,
        user_login_failed: sign_in_failed,
        authentication_failed: second_step_failed,
        password_changed: password_is_another,
        password_set: password_is_another,
        password_reset: password_is_another,
        authenticator_added: second_step_is_another,
        authenticator_removed: second_step_is_another,
        authenticator_reset: second_step_is_another,
    }
    for signal, receiver in heard.items():
        signal.connect(receiver, dispatch_uid=f"who did what: {receiver.__name__}")


def signed_in(user: User, **_kwargs: Any) -> None:
    note_of_account(Kind.SIGNED_IN, user, by=user)


def signed_out(user: User | None, **_kwargs: Any) -> None:
    if user is not None:
        note_of_account(Kind.SIGNED_OUT, user, by=user)


def sign_in_failed(credentials: dict[str, Any], **_kwargs: Any) -> None:
    """Of an address that no account has nothing is kept: people type their password into the wrong box."""
    address = credentials.get("email") or credentials.get("username") or ""
    user = User.objects.filter(email=str(address).strip().lower()).first()
    if user:
        note_of_account(Kind.SIGN_IN_FAILED, user, reason="password")
        watch(user)
    else:
        note(Kind.SIGN_IN_FAILED, UNKNOWN_ACCOUNT, firm=None, reason="no-account")


def second_step_failed(user: User, **_kwargs: Any) -> None:
    note_of_account(Kind.SIGN_IN_FAILED, user, reason="second-step")
    watch(user)


def password_is_another(user: User, request: Any = None, **_kwargs: Any) -> None:
    """Programs that work for the account end as its sessions do."""
    note_of_account(Kind.ACCESS, user, by=user, reason="password")
    if end_tokens_of(user, user) and request:
        said = _("Programs that worked for you over the API are ended. Make new tokens for them.")
        messages.info(request, said)


def second_step_is_another(user: User, **_kwargs: Any) -> None:
    note_of_account(Kind.ACCESS, user, by=user, reason="second-step")
