"""Admin pages of the firm's answers and words of its own, and of the checks that were stored."""

from django.contrib import admin
from django.utils.translation import gettext_lazy as _

from compliance import models
from records.admin.base import FirmAdmin, ReadOnly, ReferenceAdmin
from records.admin.treatments import shown_json


@admin.register(models.Determination)
class DeterminationAdmin(ReferenceAdmin):
    list_display = ("question", "answer", "by", "valid_from", "valid_to")
    search_fields = ("question", "answer", "by", "advice")


@admin.register(models.NoticeWords)
class NoticeWordsAdmin(ReferenceAdmin):
    list_display = ("language", "text")
    search_fields = ("text",)


@admin.register(models.StoredCheck)
class StoredCheckAdmin(ReadOnly, FirmAdmin):
    list_display = ("treatment", "on", "occasion", "outcome", "at")
    list_filter = ("occasion", "outcome")
    list_select_related = ("treatment",)
    search_fields = ("treatment__number", "digest")
    fields = ("treatment", "signed_record", "occasion", "on", "outcome", "digest", "at", "whole_check")

    @admin.display(description=_("check"))
    def whole_check(self, check: models.StoredCheck) -> str:
        return shown_json(check.stored)
