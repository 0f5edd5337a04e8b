"""Programs that work for a person over the API: make a token, see it once, end it."""

from typing import Any

from django import forms
from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.signatures import TOO_MANY_TRIES, WRONG_PASSWORD
from compliance.programs.scopes import said, scopes_for
from compliance.services.password import TooManyTriesError, WrongPasswordError, confirm_password
from records.models import Firm, ProgramToken, User
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.programs import TooManyTokensError, end_token, make_token, tokens_for

DAYS = (
    (30, gettext_lazy("30 days")),
    (90, gettext_lazy("90 days")),
    (365, gettext_lazy("A year")),
)


class TokenForm(forms.Form):
    """What a new program is called, may do, and for how long."""

    name = forms.CharField(
        label=gettext_lazy("Name of the program or device"),
        help_text=gettext_lazy("So that you know it in the list. For example: bookkeeping."),
        max_length=80,
    )
    scopes = forms.MultipleChoiceField(
        label=gettext_lazy("What it may do"), widget=forms.CheckboxSelectMultiple
    )
    days = forms.TypedChoiceField(label=gettext_lazy("For how long"), choices=DAYS, coerce=int, initial=90)
    password = forms.CharField(
        label=gettext_lazy("Your password"),
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
        strip=False,
    )

    def __init__(self, firm: Firm, user: User, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["scopes"].choices = scopes_for(firm, user)


class Programs(FirmPage):
    permission = "records.use_programs"
    template_name = "compliance/programs.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self._show(TokenForm(self.firm, request.user))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Make a token and show it, this once."""
        form = TokenForm(self.firm, request.user, request.POST)
        made = self._make(form) if form.is_valid() else None
        if made is None:
            return self._show(form, status=422)
        row, token = made
        return self._show(TokenForm(self.firm, request.user), status=201, made=row, token=token)

    def _make(self, form: TokenForm) -> tuple[ProgramToken, str] | None:
        given = form.cleaned_data
        try:
            confirm_password(self.request.user, given["password"])
            return make_token(self.firm, self.request.user, given["name"], given["scopes"], given["days"])
        except WrongPasswordError:
            form.add_error("password", WRONG_PASSWORD)
        except TooManyTriesError:
            form.add_error("password", TOO_MANY_TRIES)
        except TooManyTokensError:
            form.add_error("name", _("You have twenty of them. End one first."))
        return None

    def _show(self, form: TokenForm, status: int = 200, **more: Any) -> HttpResponse:
        rows = [(row, said(row.scopes)) for row in tokens_for(self.firm, self.request.user)]
        hooks = self.may("records.keep_hooks")
        return self.page(form=form, rows=rows, keeps_hooks=hooks, status=status, **more)


class EndProgram(FirmPage):
    permission = "records.use_programs"

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        row = get_object_or_404(ProgramToken.objects.for_firm(self.firm), uuid=kwargs["uuid"])
        try:
            end_token(row, request.user)
        except PermissionDenied:
            raise Http404("somebody else's program") from None
        messages.success(request, _("Ended. Its token opens nothing any more."))
        return redirect("programs")
