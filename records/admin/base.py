"""What every admin page of a firm needs: managers see and edit the rows of their own firm, and no others."""

from typing import Any, ClassVar

from django import forms
from django.contrib import admin
from django.db import models
from django.http import Http404, HttpRequest
from django.utils.text import capfirst
from simple_history.admin import SimpleHistoryAdmin

from records.current_firm import managed_firm
from records.forms.dates import DayField
from records.holding import holding
from records.models import Firm
from records.models.fields import WordField
from records.pages.seen import SAFE, note_seen
from records.services.audit import Thing
from shared.tenancy import FirmOwned

WIDTHS = {12: 4, 100: 10, 200: 13}
"""Of text boxes in tables, in letters, by the length of what they hold."""

admin.FieldListFilter.register(
    lambda field: isinstance(field, WordField), admin.ChoicesFieldListFilter, take_priority=True
)

DAYS = {models.DateField: {"form_class": DayField}}


class FirmForm(forms.ModelForm):
    """A form for one firm: a new row is the firm's before it is validated, so that names are unique in it."""

    firm: ClassVar[Firm | None] = None

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            field.label = capfirst(field.label)
        if isinstance(self.instance, FirmOwned) and self.instance.firm_id is None and self.firm:
            self.instance.firm = self.firm

    def _get_validation_exclusions(self) -> set[str]:
        return super()._get_validation_exclusions() - {"firm"}


class OwnFirmOnly:
    """Permissions and choices for admin pages and their inlines."""

    def _own(self, request: HttpRequest, obj: Any = None) -> bool:
        firm = managed_firm(request)
        return firm is not None and (obj is None or getattr(obj, "firm_id", obj.pk) == firm.pk)

    def has_module_permission(self, request: HttpRequest) -> bool:
        return self._own(request)

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return self._own(request, obj)

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return self._own(request, obj)

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return self._own(request, obj)

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return self._own(request, obj)

    def formfield_for_foreignkey(self, field: Any, request: HttpRequest, **kwargs: Any) -> Any:
        """Offer rows of the own firm only."""
        if issubclass(field.related_model, FirmOwned):
            kwargs["queryset"] = field.related_model.objects.for_firm(managed_firm(request))
        return super().formfield_for_foreignkey(field, request, **kwargs)


class FirmAdmin(OwnFirmOnly, admin.ModelAdmin):
    """The admin page of a model whose rows belong to firms; another firm's id answers 404."""

    form = FirmForm
    list_per_page = 50
    formfield_overrides = DAYS

    def get_queryset(self, request: HttpRequest) -> models.QuerySet:
        firm = managed_firm(request)
        rows = self.model.objects.for_firm(firm) if firm else self.model.objects.none()
        ordering = self.get_ordering(request)
        return rows.order_by(*ordering) if ordering else rows

    def get_object(self, request: HttpRequest, object_id: str, from_field: str | None = None) -> Any:
        found = super().get_object(request, object_id, from_field)
        if found is None:
            raise Http404
        deletes = request.resolver_match.url_name.endswith("_delete")
        refused = deletes and not self.has_delete_permission(request, found)
        if request.method in SAFE and not refused:
            note_seen(request, found if isinstance(found, Firm) else found.firm, found)
        return found

    def changelist_view(self, request: HttpRequest, extra_context: Any = None) -> Any:
        answer = super().changelist_view(request, extra_context)
        if request.method in SAFE:
            note_seen(request, managed_firm(request))
        return answer

    def get_form(self, request: HttpRequest, obj: Any = None, change: bool = False, **kwargs: Any) -> Any:
        form = super().get_form(request, obj, change=change, **kwargs)
        form.firm = managed_firm(request)
        return form


class ReferenceAdmin(FirmAdmin, SimpleHistoryAdmin):
    """The admin page of reference data, with their history."""

    save_on_top = True

    def get_search_results(
        self, request: HttpRequest, queryset: models.QuerySet, search_term: str
    ) -> tuple[models.QuerySet, bool]:
        """By each word, whatever its accents; no row comes twice."""
        columns = self.get_search_fields(request)
        return holding(queryset, search_term, columns) if columns else queryset, False

    def get_history_queryset(
        self, request: HttpRequest, history_manager: Any, pk_name: str, object_id: Any
    ) -> models.QuerySet:
        history = history_manager.for_firm(managed_firm(request)).filter(**{pk_name: object_id})
        return history.select_related("history_user")

    def history_view(self, request: HttpRequest, object_id: str, extra_context: Any = None) -> Any:
        answer = super().history_view(request, object_id, extra_context)
        note_seen(request, managed_firm(request), self._past(object_id))
        return answer

    def _past(self, object_id: str) -> Thing:
        """A row of which all that is sure to be there is its past."""
        return Thing(self.opts.label_lower, str(object_id))

    def history_form_view(self, request: HttpRequest, object_id: str, version_id: str, **kwargs: Any) -> Any:
        history = self.get_history_queryset(request, self.model.history, self.opts.pk.attname, object_id)
        if not history.filter(history_id=version_id).exists():
            raise Http404
        if request.method in SAFE:
            note_seen(request, managed_firm(request), self._past(object_id))
        return super().history_form_view(request, object_id, version_id, **kwargs)


class FirmInline(OwnFirmOnly):
    """Rows of the same firm on their parent's page; the firm is the parent's."""

    extra = 0
    show_change_link = False
    formfield_overrides = DAYS


class FirmTabularInline(FirmInline, admin.TabularInline):
    def formfield_for_dbfield(self, db_field: models.Field, request: HttpRequest, **kwargs: Any) -> Any:
        """Text boxes as wide as what goes in, so that a row fits the screen."""
        field = super().formfield_for_dbfield(db_field, request, **kwargs)
        if field is not None and isinstance(field.widget, forms.TextInput):
            field.widget.attrs |= {"class": "", "size": WIDTHS.get(db_field.max_length, 10)}
        return field


class FirmStackedInline(FirmInline, admin.StackedInline):
    pass


class ReadOnly:
    """Seen and never changed here."""

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


class NeverDeleted:
    """Ended by unticking, since records name it."""

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
