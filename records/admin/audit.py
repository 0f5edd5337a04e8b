"""What was done that belongs to no firm: sign-ins and refusals of those who are in none."""

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from records.admin.base import ReadOnly
from records.admin.firms import OwnerOnly
from records.models import AuditEntry


@admin.register(AuditEntry)
class AuditOfNoFirm(ReadOnly, OwnerOnly, admin.ModelAdmin):
    """For the owner of this machine; a firm's entries are its managers' to see."""

    list_display = ("at", "by_name", "kind", "thing", "thing_name", "reason", "page")
    list_filter = ("kind",)
    search_fields = ("by_name", "thing_name", "reason", "page")
    list_per_page = 50
    exclude = ("treatment",)

    def get_queryset(self, request: HttpRequest) -> Any:
        return AuditEntry.across_firms.filter(firm=None).order_by("-at", "-pk")
