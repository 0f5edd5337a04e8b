"""A manager makes a new signing key, which the old one introduces."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.signatures import password_faults
from compliance.services.password import confirm_password
from records.forms.signature import NewKeyForm
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.key_changes import OtherKeyInForceError, change_key
from records.services.keys import in_force_digest

_ALREADY = gettext_lazy(
    "The key that this page was to replace is not in force any more: a new one was made meanwhile, so none was "
    "made now. Look at the log before you make another."
)


class NewKey(FirmPage):
    permission = "records.change_key"
    template_name = "compliance/new_key.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(form=NewKeyForm(initial={"replaces": in_force_digest(self.firm)}))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = NewKeyForm(request.POST)
        if form.is_valid():
            with password_faults(form):
                confirm_password(request.user, form.cleaned_data["password"])
                self._change(request, form)
        if not form.is_valid():
            return self.page(form=form, status=422)
        messages.success(request, _("The new key is in force. Give its digest to whoever checks your records."))
        return redirect("log")

    def _change(self, request: HttpRequest, form: NewKeyForm) -> None:
        try:
            change_key(self.firm, request.user, form.cleaned_data["replaces"])
        except OtherKeyInForceError:
            form.add_error(None, _ALREADY)
