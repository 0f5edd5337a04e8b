"""What is done to a whole treatment: stand it down, begin a correction."""

import uuid
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext_lazy as _

from records.document.edits import Edit
from records.forms.signature import ReasonForm
from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.services.corrections import AlreadyCorrectedError, NotSignedError, start_correction
from records.services.drafts import NotADraftError, edit_draft

CHANGED_MEANWHILE = _("Somebody else has changed this treatment meanwhile. See what it is now.")


class TreatmentFormPage(FirmPage):
    """One form about one treatment: shown, checked, then `act` on it, which may still find a fault."""

    template_name = "records/change.html"
    title: Any
    lead: Any = ""
    button: Any
    alarm = False

    def form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        raise NotImplementedError

    def act(self, treatment: Treatment, form: forms.Form) -> None:
        raise NotImplementedError

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        return self._show(treatment, self.form(treatment))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        form = self.form(treatment, request.POST)
        if not form.is_valid():
            return self._show(treatment, form, status=422)
        try:
            self.act(treatment, form)
        except (AlreadyCorrectedError, NotSignedError, NotADraftError):
            messages.error(request, CHANGED_MEANWHILE)
        if not form.is_valid():
            return self._show(treatment, form, status=422)
        return redirect("treatment", uuid=treatment.pk)

    def _show(self, treatment: Treatment, form: forms.Form, status: int = 200) -> HttpResponse:
        return self.page(
            status=status,
            treatment=treatment,
            form=form,
            title=self.title,
            lead=self.lead,
            button=self.button,
            alarm=self.alarm,
        )


class StandDown(FirmPage):
    """Leads to the form's screen that stands a treatment down; takes it back."""

    permission = "records.edit_draft"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """A record that is signed can't be stood down any more: it is shown."""
        treatment = self.treatment()
        if not treatment.is_open:
            return redirect("treatment", uuid=treatment.pk)
        return redirect("section", uuid=treatment.pk, section="stand-down")

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        paths = ("record.result", "record.why")
        edits = [Edit(str(uuid.uuid4()), path, None, treatment.revision) for path in paths]
        try:
            edit_draft(treatment, edits, request.user)
        except NotADraftError:
            messages.error(request, CHANGED_MEANWHILE)
        return redirect("treatment", uuid=treatment.pk)


class Correct(TreatmentFormPage):
    permission = "records.correct_treatment"

    title = _("Correct this record")
    lead = _(
        "What was signed stays. A new version is written, which names the one it replaces and why, and "
        "is signed in its turn."
    )
    button = _("Begin the correction")

    def form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        return ReasonForm(data)

    def act(self, treatment: Treatment, form: forms.Form) -> None:
        start_correction(treatment, self.request.user, form.cleaned_data["reason"])
