"""The password that confirms a signature, with few tries."""

from django.core.cache import cache

from records.models import User

TRIES, WITHIN_SECONDS = 5, 15 * 60


class WrongPasswordError(ValueError):
    """The password does not fit the signer's account."""


class TooManyTriesError(ValueError):
    """The password was wrong too often; it is not looked at until some time has passed."""


def confirm_password(user: User, password: str) -> None:
    """Raise WrongPasswordError, or TooManyTriesError after five wrong ones within a quarter of an hour."""
    tries = f"signing-password-{user.pk}"
    cache.add(tries, 0, WITHIN_SECONDS)
    if cache.incr(tries) > TRIES:
        raise TooManyTriesError
    if not user.check_password(password):
        raise WrongPasswordError
    cache.delete(tries)
