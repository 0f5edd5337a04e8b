"""A manager makes a new signing key, which the old one introduces."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from compliance.pages.signatures import password_faults
from compliance.services.password import confirm_password
from records.forms.signature import NewKeyForm
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.key_changes import change_key


class NewKey(FirmPage):
    permission = "records.change_key"
    template_name = "compliance/new_key.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(form=NewKeyForm())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = NewKeyForm(request.POST)
        if form.is_valid():
            with password_faults(form):
                confirm_password(request.user, form.cleaned_data["password"])
                change_key(self.firm, request.user)
        if not form.is_valid():
            return self.page(form=form, status=422)
        messages.success(request, _("The new key is in force. Give its digest to whoever checks your records."))
        return redirect("log")
