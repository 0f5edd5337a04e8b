"""Hold a treatment's records against erasing, and lift the hold."""

from typing import Any

from django import forms
from django.contrib import messages
from django.utils.translation import gettext_lazy as _

from records.forms.signature import HoldForm
from records.models import Treatment
from records.pages.changes import CHANGED_MEANWHILE, TreatmentFormPage
from records.services.holds import NoHoldError, hold, lift


class Hold(TreatmentFormPage):
    permission = "records.hold_treatment"
    title = _("Hold this record")
    lead = _("For a claim or an inquiry: while it is held, nothing of it is erased, whatever its term.")
    button = _("Hold it")

    def form(self, treatment: Treatment, data: Any = None) -> forms.Form:
        return HoldForm(data)

    def act(self, treatment: Treatment, form: forms.Form) -> None:
        hold(treatment, form.cleaned_data["reason"], self.request.user)


class LiftHold(Hold):
    title = _("Lift the hold")
    lead = _(
        "Once its term is over, what it says of people may be erased again. Who held it, why, and who lifted "
        "it is kept."
    )
    button = _("Lift the hold")

    def act(self, treatment: Treatment, form: forms.Form) -> None:
        try:
            lift(treatment, form.cleaned_data["reason"], self.request.user)
        except NoHoldError:
            messages.error(self.request, CHANGED_MEANWHILE)
