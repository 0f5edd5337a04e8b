"""The registers that were brought in, without whom they name; they come and go on the site's own pages."""

from typing import Any

from django.contrib import admin
from django.db.models import Count
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from records import models
from records.admin.base import FirmAdmin, ReadOnly


@admin.register(models.Register)
class RegisterAdmin(ReadOnly, FirmAdmin):
    list_display = ("name", "authority", "source", "as_of", "count_of_persons")

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).annotate(count=Count("persons"))

    @admin.display(description=_("persons"))
    def count_of_persons(self, register: Any) -> int:
        return int(register.count)
