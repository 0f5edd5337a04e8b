"""Admin pages of a firm's members, who are invited and accept."""

from typing import Any

from django import forms
from django.contrib import admin, messages
from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils.html import format_html
from django.utils.translation import gettext_lazy as _

from records.admin.base import FirmForm, NeverDeleted, ReferenceAdmin
from records.models import Membership
from records.services.invitations import account_for, invite


class MembershipForm(FirmForm):
    """A member is invited by e-mail; an account is made where the address has none."""

    email = forms.EmailField(label=_("e-mail"), help_text=_("The invitation goes to this address."))
    name = forms.CharField(
        label=_("name"),
        max_length=200,
        help_text=_("As it should stand on a record. Who has an account here already keeps the name in it."),
    )

    class Meta:
        model = Membership
        fields = ("person", "role", "active")

    def clean_email(self) -> str:
        email = self.cleaned_data["email"].lower()
        if Membership.objects.for_firm(self.firm).filter(user__email=email).exists():
            raise forms.ValidationError(_("This person is a member already, or invited."), code="member")
        return email

    def clean_name(self) -> str:
        """Records say who signed by name alone: no two who work here have the same."""
        name = " ".join(self.cleaned_data["name"].split())
        others = Membership.objects.for_firm(self.firm).filter(active=True, user__name__iexact=name)
        if others.exists():
            raise forms.ValidationError(
                _("Somebody of this name works here already. Add an initial, so that records tell them apart."),
                code="same_name",
            )
        return name

    def save(self, commit: bool = True) -> Membership:
        self.instance.user = account_for(self.cleaned_data["email"], self.cleaned_data["name"])
        return super().save(commit)


def invite_and_say(request: HttpRequest, membership: Membership) -> None:
    """Invite, and show the link this once: it is handed over where no mail is sent."""
    words = _("Invited: {email}. A mail brings this link; where none arrives, hand it over: {link}")
    link = invite(membership, request.user)
    messages.success(request, format_html(words, email=membership.user.email, link=link))


@admin.register(Membership)
class MembershipAdmin(NeverDeleted, ReferenceAdmin):
    list_display = ("who", "email", "role", "person", "active", "accepted_at")
    list_filter = ("role", "active")
    list_select_related = ("user", "person")
    search_fields = ("user__name", "user__email")
    actions = ("invite_again",)

    def get_form(self, request: HttpRequest, obj: Any = None, change: bool = False, **kwargs: Any) -> Any:
        if obj is None:
            kwargs["form"] = MembershipForm
        return super().get_form(request, obj, change=change, **kwargs)

    def get_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        own = ("person", "role", "active")
        return ("email", "name", *own) if obj is None else ("who", "email", *own, "accepted_at")

    def get_readonly_fields(self, request: HttpRequest, obj: Any = None) -> tuple[str, ...]:
        return () if obj is None else ("who", "email", "accepted_at")

    @transaction.atomic
    def add_view(self, *args: Any, **kwargs: Any) -> Any:
        return super().add_view(*args, **kwargs)

    def save_model(self, request: HttpRequest, obj: Membership, form: Any, change: bool) -> None:
        super().save_model(request, obj, form, change)
        if not change:
            invite_and_say(request, obj)

    @admin.action(description=_("Invite again those who have not accepted"), permissions=["change"])
    def invite_again(self, request: HttpRequest, chosen: QuerySet[Membership]) -> None:
        for membership in chosen.filter(accepted_at=None, active=True):
            invite_and_say(request, membership)

    @admin.display(description=_("user"))
    def who(self, membership: Membership) -> str:
        """An account's name, once its owner has accepted."""
        return membership.user.name if membership.accepted_at else ""

    @admin.display(description=_("e-mail"))
    def email(self, membership: Membership) -> str:
        return membership.user.email
