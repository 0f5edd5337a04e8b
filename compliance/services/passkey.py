"""A passkey that confirms a signature (W3C Web Authentication), by the sign-in library."""

import json
from typing import Any

from allauth.mfa.webauthn.internal import auth
from django.core.exceptions import ValidationError

from records.models import AuditEntry, User
from records.services.audit import note_of_account
from records.services.misuse import watch


class WrongPasskeyError(ValueError):
    """The passkey is none of the signer's, or answers to something else than it was asked."""


def asked_of(user: User) -> dict[str, Any] | None:
    """What the signer's passkey is asked, kept in the session until it answers; None for who has none."""
    return auth.begin_authentication(user) if auth.get_credentials(user) else None


def confirm_passkey(user: User, answer: str) -> None:
    """Raise WrongPasskeyError unless `answer` (JSON) is one of the user's passkeys' to what was asked."""
    try:
        credential = json.loads(answer)
        auth.parse_authentication_response(credential)
        auth.complete_authentication(user, credential)
    except (ValidationError, ValueError, TypeError, AttributeError, KeyError, RecursionError) as error:
        note_of_account(AuditEntry.Kind.REFUSED, user, by=user, reason="signing-passkey")
        watch(user)
        raise WrongPasskeyError from error
