"""Accept an invitation into a firm, and choose the firm to work in."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.forms import SetPasswordForm
from django.contrib.auth.mixins import LoginRequiredMixin
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views import View

from records.current_firm import CHOSEN, choose_firm
from records.models import Membership
from records.services.invitations import NotInvitedError, accept, begin_account, invited


class AcceptInvitation(View):
    """A new account sets its password here; an existing one signs in, sees who asks, and accepts."""

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Any:
        try:
            membership = invited(**kwargs)
            mine = request.user == membership.user
            if request.user.is_authenticated and not mine:
                return self._show(membership, another=True, status=403)
            if not mine and membership.user.has_usable_password():
                return redirect_to_login(request.get_full_path())
            return super().dispatch(request, membership)
        except NotInvitedError:
            return render(request, "records/invitation_over.html", status=410)

    def get(self, request: HttpRequest, membership: Membership) -> HttpResponse:
        return self._show(membership, form=self._form(membership))

    def post(self, request: HttpRequest, membership: Membership) -> HttpResponse:
        form = self._form(membership)
        if form is None:
            joined = accept(**self.kwargs, by=request.user)
            request.session[CHOSEN] = str(joined.firm_id)
            return redirect("home")
        if not form.is_valid():
            return self._show(membership, form=form, status=422)
        begin_account(**self.kwargs, password=form.cleaned_data["new_password1"])
        messages.success(request, _("Your password is set. Sign in with it."))
        return redirect("account_login")

    def _form(self, membership: Membership) -> SetPasswordForm | None:
        """The form for a new account's password; None for who has signed in."""
        return None if self.request.user.is_authenticated else SetPasswordForm(
            membership.user, self.request.POST or None
        )

    def _show(self, membership: Membership, status: int = 200, **more: Any) -> HttpResponse:
        role = membership.get_role_display().partition(":")[0]
        context = {"invitation": membership, "role": role, **more}
        return render(self.request, "records/invitation.html", context, status=status)


class ChooseFirm(LoginRequiredMixin, View):
    """Work in another of the own firms."""

    def post(self, request: HttpRequest) -> HttpResponse:
        try:
            chosen = choose_firm(request, UUID(request.POST.get("firm", "")))
        except ValueError:
            chosen = False
        if not chosen:
            raise Http404("no such firm")
        return redirect("home")
