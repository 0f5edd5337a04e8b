"""Hooks: which programs are told of what, with which secret, and what came of each call. For managers."""

from typing import Any
from urllib.parse import urlsplit

from django import forms
from django.conf import settings
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.validators import URLValidator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from records.hooks.signing import secret_of
from records.models import Hook
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.hooks import (
    PERMISSION,
    TooManyHooksError,
    end_hook,
    hooks_of,
    make_hook,
    renew_secret,
    try_hook,
)

SHOWN = 25


class HookForm(forms.Form):
    name = forms.CharField(label=gettext_lazy("Name of the program"), max_length=80)
    address = forms.CharField(
        label=gettext_lazy("Address that is told"),
        help_text=gettext_lazy("It begins with https:// and is on the public net."),
        max_length=500,
        widget=forms.URLInput({"autocomplete": "off"}),
    )
    events = forms.MultipleChoiceField(
        label=gettext_lazy("What it is told"),
        choices=[each for each in Hook.Event.choices if each[0] != Hook.Event.TRIAL],
        widget=forms.CheckboxSelectMultiple,
    )

    def clean_address(self) -> str:
        address: str = self.cleaned_data["address"]
        schemes = ["https", "http"] if settings.HOOKS_ANYWHERE else ["https"]
        URLValidator(schemes, message=_("Give an address that begins with https://."))(address)
        if "@" in urlsplit(address).netloc:
            said = _("Leave out what stands before the @: it is never sent, and others would see it.")
            raise ValidationError(said)
        return address


class Hooks(FirmPage):
    permission = PERMISSION
    template_name = "records/hooks.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(form=HookForm(), hooks=hooks_of(self.firm))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Make a hook and show its secret, this once."""
        form = HookForm(request.POST)
        if form.is_valid():
            try:
                made = make_hook(self.firm, request.user, **form.cleaned_data)
                more = {"made": made, "secret": secret_of(made)}
                return self.page(status=201, form=HookForm(), hooks=hooks_of(self.firm), **more)
            except TooManyHooksError:
                form.add_error("name", _("Your firm has ten of them. End one first."))
        return self.page(status=422, form=form, hooks=hooks_of(self.firm))


class OneHook(FirmPage):
    permission = PERMISSION
    template_name = "records/hook.html"

    @cached_property
    def hook(self) -> Hook:
        hooks = Hook.objects.for_firm(self.firm).select_related("firm")
        return get_object_or_404(hooks, pk=self.kwargs["hook"])

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.hook)
        return self._show()

    def _show(self, **more: Any) -> HttpResponse:
        words = dict(Hook.Event.choices)
        told = [words.get(each, each) for each in self.hook.events]
        calls = self.hook.calls.all()[:SHOWN]
        return self.page(hook=self.hook, told=told, calls=calls, **more)

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Try it, end it, or give it another secret, which is shown this once."""
        if "end" in request.POST:
            end_hook(self.hook, request.user)
            messages.success(request, _("Ended. It is told nothing any more."))
            return redirect("hooks")
        if "renew" in request.POST and not self.hook.ended_at:
            return self._show(secret=renew_secret(self.hook, request.user))
        if not self.hook.ended_at:
            try_hook(self.hook, request.user)
            messages.success(request, _("A trial is on its way. What came of it stands below in a moment."))
        return redirect("hook", hook=self.hook.pk)
