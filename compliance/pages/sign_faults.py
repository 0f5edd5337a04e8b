"""What keeps a treatment from being signed, in words, each with the control to mend it in."""

import logging
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from compliance.pages.signatures import NO_KEY, TOO_MANY_TRIES, WRONG_PASSWORD
from compliance.services.passkey import WrongPasskeyError
from compliance.services.password import TooManyTriesError, WrongPasswordError
from compliance.services.signing import (
    LONGEST_REASON,
    OtherThanShownError,
    ReasonTooLongError,
    UnansweredError,
)
from records.models import Treatment
from records.services.keys import SigningKeyError
from records.services.signing import DraftChangedError, UnreadEntriesError
from records.services.to_sign import ImplausibleTimeError
from records.templatetags.treatments import moment

logger = logging.getLogger(__name__)
NO_REASON = _("Give a reason: why is it so, and what was done about it?")
TOO_LONG = _("Keep the reason to 2,000 characters.")
CHANGED = _("The draft was changed meanwhile. Look through it again before you sign.")
WRONG_PASSKEY = _("The passkey did not confirm it. Try again, or sign with your password.")
NO_PASSWORD = _("Enter your password.")
OTHER_THAN_SHOWN = _("What would be signed is not what you saw: reference data changed. See it as it is now.")
NOT_YET = _("By its times the work is done at %(when)s, still to come. Sign then, or mend the times.")
UNREAD = _("Some entries could not be read. Mend them or take them out first.")


@dataclass(frozen=True)
class Fault:
    """One thing that keeps the form from being signed, and the control to mend it in."""

    words: str | Promise
    control: str


_FAULTS = {
    WrongPasswordError: Fault(WRONG_PASSWORD, "password"),
    TooManyTriesError: Fault(TOO_MANY_TRIES, "password"),
    WrongPasskeyError: Fault(WRONG_PASSKEY, "password"),
    OtherThanShownError: Fault(OTHER_THAN_SHOWN, "row-changes"),
    DraftChangedError: Fault(CHANGED, "answers"),
    UnreadEntriesError: Fault(UNREAD, "unread"),
    SigningKeyError: Fault(NO_KEY, "answers"),
}
ABOUT_REASONS = (UnansweredError, ReasonTooLongError)
REFUSALS = (*_FAULTS, ImplausibleTimeError)
"""Everything else that a signature is refused for and the page can say."""


def fault_of(error: Exception, treatment: Treatment, password: str) -> Fault:
    """What is said of a refusal, one of REFUSALS."""
    if isinstance(error, ImplausibleTimeError):
        when = moment(error.earliest, treatment.site.time_zone or treatment.firm.time_zone)
        return Fault(NOT_YET % {"when": when}, "answers")
    if isinstance(error, WrongPasswordError) and not password:
        return Fault(NO_PASSWORD, "password")
    if isinstance(error, SigningKeyError):
        logger.error("%s", error)
    return _FAULTS[type(error)]


def fault_of_reason(reason: str) -> str | Promise:
    """What is wrong with a reason; nothing if it can be signed."""
    if len(reason) > LONGEST_REASON:
        return TOO_LONG
    return "" if reason.strip() else NO_REASON
