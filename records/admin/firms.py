"""Admin pages of the firm itself, its members, and the accounts on this machine."""

from typing import Any

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.forms import AdminUserCreationForm
from django.db import transaction
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from records import models
from records.admin.base import FirmForm, FirmTabularInline, NeverDeleted, ReferenceAdmin
from records.admin.fields import ListField
from records.admin.members import invite_and_say
from records.admin.reference import ADDRESS, LicenceForm
from records.models import AuditEntry, Membership
from records.outbox.by_text_message import shared_secret
from records.pages.seen import SAFE, pattern_of
from records.services.audit import change as changed
from records.services.audit import note_of_account
from records.services.programs import end_tokens_of


class OwnFirmForm(FirmForm):
    jurisdictions = ListField(
        label=_("places whose rules apply"),
        required=False,
        help_text=_("New sites start with these: us, us-wa"),
    )

    class Meta:
        model = models.Firm
        fields = "__all__"


class FirmLicenceInline(FirmTabularInline):
    """The firm's own licences."""

    model = models.Licence
    form = LicenceForm
    fk_name = "firm"
    exclude = ("person",)
    verbose_name_plural = _("the firm's own licences")

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).filter(person=None)


class OwnerOnly:
    """For the owner of this machine alone."""

    def has_module_permission(self, request: HttpRequest) -> bool:
        return request.user.is_superuser

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return request.user.is_superuser

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return request.user.is_superuser

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return request.user.is_superuser

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


class FirstMembersInline(OwnerOnly, admin.TabularInline):
    """Where the owner of this machine names a new firm's managers."""

    model = Membership
    form = FirmForm
    fields = ("user", "role", "active")
    extra = 0


@admin.register(models.Firm)
class OwnFirmAdmin(NeverDeleted, ReferenceAdmin):
    """A manager's own firm; the machine's owner sees all and makes new ones."""

    form = OwnFirmForm
    list_display = ("name", "city", "region", "phone", "paper", "language")
    fieldsets = (
        (None, {"fields": ("name", "phone", *ADDRESS)}),
        (
            _("Insurance"),
            {"fields": ("insurer", "insurance_policy", ("insurance_cover", "insurance_currency"))},
        ),
        (_("Papers"), {"fields": ("paper", "language")}),
        (_("New sites"), {"fields": ("time_zone", "jurisdictions")}),
        (_("Stock"), {"fields": ("stock_share",)}),
        (_("Photos"), {"fields": ("reads_pictures",)}),
        (_("Notices"), {"fields": ("email", "text_message_address", "text_message_secret")}),
    )
    inlines = (FirmLicenceInline, FirstMembersInline)
    readonly_fields = ("text_message_secret",)

    @admin.display(description=_("secret that signs text messages"))
    def text_message_secret(self, firm: models.Firm) -> str:
        return shared_secret(firm) if firm.text_message_address else "–"

    def has_module_permission(self, request: HttpRequest) -> bool:
        return request.user.is_superuser or super().has_module_permission(request)

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return request.user.is_superuser or super().has_view_permission(request, obj)

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return request.user.is_superuser or super().has_change_permission(request, obj)

    def has_add_permission(self, request: HttpRequest) -> bool:
        return request.user.is_superuser

    def get_queryset(self, request: HttpRequest) -> Any:
        if request.user.is_superuser:
            return models.Firm.across_firms.all()
        return super().get_queryset(request)

    def save_formset(self, request: HttpRequest, form: Any, formset: Any, change: bool) -> None:
        super().save_formset(request, form, formset, change)
        for row in formset.new_objects:
            if isinstance(row, Membership):
                invite_and_say(request, row)


ACCESS = ("language", "is_active", "is_superuser")
REDIRECT = 302


class AccountCreationForm(AdminUserCreationForm):
    class Meta:
        model = models.User
        fields = ("email", "name")


@admin.register(models.User)
class AccountAdmin(OwnerOnly, UserAdmin):
    """All accounts on this machine."""

    add_form = AccountCreationForm
    list_display = ("email", "name", "is_active", "is_superuser", "last_login")
    list_filter = ("is_active", "is_superuser")
    search_fields = ("email", "name")
    ordering = ("email",)
    filter_horizontal = ()
    readonly_fields = ("last_login",)
    fieldsets = (
        (None, {"fields": ("email", "name", "language", "password")}),
        (_("Access"), {"fields": ("is_active", "is_superuser", "last_login")}),
    )
    add_fieldsets = ((None, {"fields": ("email", "name", "usable_password", "password1", "password2")}),)

    def get_object(self, request: HttpRequest, object_id: str, from_field: str | None = None) -> Any:
        found = super().get_object(request, object_id, from_field)
        if found is not None and request.method in SAFE:
            kind = AuditEntry.Kind.VIEWED
            note_of_account(kind, found, by=request.user, page=pattern_of(request))
        return found

    def save_model(self, request: HttpRequest, obj: models.User, form: Any, change: bool) -> None:
        """The password, which may be among what changed, is no value to keep."""
        super().save_model(request, obj, form, change)
        kind = AuditEntry.Kind.CHANGED if change else AuditEntry.Kind.CREATED
        names = [name for name in form.changed_data if name in ("email", "name", *ACCESS)]
        changes = [changed(name, form.initial.get(name), form.cleaned_data[name]) for name in names]
        note_of_account(kind, obj, by=request.user, changes=changes)

    def user_change_password(self, request: HttpRequest, id: str, form_url: str = "") -> Any:  # noqa: A002
        with transaction.atomic():
            answer = super().user_change_password(request, id, form_url)
            if request.method == "POST" and answer.status_code == REDIRECT:
                user = models.User.objects.get(pk=id)
                note_of_account(AuditEntry.Kind.ACCESS, user, by=request.user, reason="password")
                end_tokens_of(user, request.user)
        return answer
