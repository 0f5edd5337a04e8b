"""What is signed after the record: a follow-up, and that the record does not hold."""

import hashlib
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.files import File
from django.utils.translation import gettext_lazy as _

from compliance.services.after_signing import sign_follow_up, void_treatment
from compliance.services.password import TooManyTriesError, WrongPasswordError
from records.forms.signature import FollowUpForm, VoidForm
from records.models import Incident, Treatment
from records.pages.changes import TreatmentFormPage
from records.pages.declaring import UNDECLARED, Declaring
from records.photo_faults import PhotoError
from records.services.follow_ups import FollowUpTimeError
from records.services.incidents import signed_into, told_in_words
from records.services.keys import SigningKeyError
from records.services.photo_evidence import evidence_of
from records.services.photos import keep_whole
from records.templatetags.treatments import moment

WRONG_PASSWORD = _("This is not your password.")
TOO_MANY_TRIES = _("The password was wrong too often. Wait a quarter of an hour.")


NO_KEY = _(
    "The firm's signing key is missing or damaged on this machine, so nothing was signed. What was saved is "
    "kept. Who keeps the machine finds the file named in its log, and puts the key back from a backup."
)
TO_COME = _("A follow-up says what has happened: its time is still to come.")
TO_COME_OR_BEFORE = _("A follow-up says what happened from the beginning of the work, %(when)s, until now.")
logger = logging.getLogger(__name__)


@contextmanager
def password_faults(form: forms.Form) -> Iterator[None]:
    """Turn a password that does not fit, or a key that can't be used, into a fault of the form."""
    try:
        yield
    except WrongPasswordError:
        form.add_error("password", WRONG_PASSWORD)
    except TooManyTriesError:
        form.add_error("password", TOO_MANY_TRIES)
    except SigningKeyError as error:
        logger.error("%s", error)
        form.add_error(None, NO_KEY)


class SignatureFormPage(Declaring, TreatmentFormPage):
    """A form that ends in a signature by the password."""

    def signature_form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        raise NotImplementedError

    def sign(self, treatment: Treatment, form: forms.Form) -> None:
        raise NotImplementedError

    def form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        form = self.signature_form(treatment, data)
        if words := self.words_to_accept():
            form.fields["declares"] = forms.BooleanField(label=words, error_messages={"required": UNDECLARED})
            form.order_fields([*(name for name in form.fields if name != "password"), "password"])
        return form

    def act(self, treatment: Treatment, form: forms.Form) -> None:
        self.sign(treatment, form)
        if form.is_valid():
            self.keep_declaration()


class Void(SignatureFormPage):
    permission = "records.void_treatment"
    alarm = True
    title = _("Make this record void")
    lead = _("For a record that should never have been: it stays in the register, marked void, with why.")
    button = _("Sign and make it void")

    def signature_form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        return VoidForm(data)

    def sign(self, treatment: Treatment, form: forms.Form) -> None:
        given = form.cleaned_data
        with password_faults(form):
            void_treatment(treatment, self.request.user, given["password"], given["reason"])


class FollowUp(SignatureFormPage):
    permission = "records.sign_follow_up"
    title = _("Add a follow-up")
    lead = _("What happened after the signature. It is signed, adds to the record and changes nothing in it.")
    button = _("Sign this follow-up")

    def signature_form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        of = self._incident(treatment)
        told = {"kind": "incident", "detail": told_in_words(of)} if of else None
        more = {"initial": told, "at": of and of.happened_at}
        return FollowUpForm(self._zone(treatment), data, data and self.request.FILES, **more)

    def sign(self, treatment: Treatment, form: forms.Form) -> None:
        given = form.cleaned_data
        at = datetime.combine(given["day"], given["time"], ZoneInfo(self._zone(treatment)))
        what = {"kind": given["kind"], "at": at, "detail": given["detail"]}
        try:
            what["evidence"] = [self._kept(treatment, file) for file in given["photos"]] or None
        except PhotoError as error:
            form.add_error("photos", error.say(self.language))
            return
        try:
            with password_faults(form):
                signed = sign_follow_up(treatment, self.request.user, given["password"], **what)
                if (of := self._incident(treatment)) and given["kind"] == "incident":
                    signed_into(of, signed)
        except FollowUpTimeError as error:
            form.add_error("day", self._time_fault(treatment, error))

    def _incident(self, treatment: Treatment) -> Incident | None:
        """The incident at this treatment that the address names, which the follow-up tells of."""
        rows = Incident.objects.for_firm(self.firm).filter(treatment=treatment, follow_up=None)
        return next((each for each in rows if str(each.pk) == self.request.GET.get("incident")), None)

    def _time_fault(self, treatment: Treatment, error: FollowUpTimeError) -> str:
        if error.earliest is None:
            return TO_COME
        return TO_COME_OR_BEFORE % {"when": moment(error.earliest, self._zone(treatment))}

    def _kept(self, treatment: Treatment, file: File) -> dict[str, Any]:
        sha256 = hashlib.file_digest(file, "sha256").hexdigest()
        return evidence_of(keep_whole(treatment, file, sha256, self.request.user, later=True))

    def _zone(self, treatment: Treatment) -> str:
        return treatment.site.time_zone or self.firm.time_zone
