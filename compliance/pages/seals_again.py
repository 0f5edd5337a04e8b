"""Pages that take in entries and then look again at what their person had sealed and did not fit before."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from compliance.services.sealed_later import fit_later
from records.pages.firm_page import FirmPage
from records.pages.photos import SendPhotos
from records.pages.row_changes import AnswerRowChange

FITS_NOW = _(
    "With this the record is what you signed on your device without a connection. It is signed with that "
    "signature and locked."
)


class SealsAgain(FirmPage):
    """Put before a page whose POST takes in entries of one treatment."""

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        answer: HttpResponseBase = super().post(request, **kwargs)
        treatment = self.treatment()
        if answer.status_code >= 400 or not fit_later(treatment, request.user):
            return answer
        messages.success(request, FITS_NOW)
        signed = reverse("signed", kwargs={"uuid": treatment.pk})
        if not request.htmx:
            return redirect(signed)
        answer["HX-Redirect"] = signed
        return answer


class TakesPhotos(SealsAgain, SendPhotos):
    """A photo that is named makes the draft what was sealed with it."""


class TakesRowChanges(SealsAgain, AnswerRowChange):
    """So does an answer to what changed in the reference data."""
