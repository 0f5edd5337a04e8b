"""The password that confirms a signature, with few tries."""

from django.core.cache import cache
from django.db import transaction

from records.models import AuditEntry, User
from records.services.audit import note_of_account
from records.services.misuse import watch

TRIES, WITHIN_SECONDS = 5, 15 * 60


class WrongPasswordError(ValueError):
    """The password does not fit the signer's account."""


class TooManyTriesError(ValueError):
    """The password was wrong too often; it is not looked at until some time has passed."""


def confirm_password(user: User, password: str) -> None:
    """Raise WrongPasswordError, or TooManyTriesError after five wrong ones within a quarter of an hour.

    Call it outside of transactions (RuntimeError in one): a refusal would take the count back with it.
    """
    key = f"signing-password-{user.pk}"
    if _count_try(user, key) > TRIES:
        _note_failed(user, "too-many-tries")
        raise TooManyTriesError
    if not user.check_password(password):
        _note_failed(user, "signing-password")
        raise WrongPasswordError
    cache.delete(key)


def _note_failed(user: User, reason: str) -> None:
    note_of_account(AuditEntry.Kind.REFUSED, user, by=user, reason=reason)
    watch(user)


@transaction.atomic(durable=True)
def _count_try(user: User, key: str) -> int:
    """How many tries there were with this one; one after the other, however many come at once."""
    User.objects.select_for_update().get(pk=user.pk)
    tries: int = cache.get(key, 0) + 1
    if tries <= TRIES + 1:
        cache.set(key, tries, WITHIN_SECONDS)
    return tries
