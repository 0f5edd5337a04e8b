"""Admin pages of the firm's policies and answers, and of the checks that were stored."""

from django.contrib import admin
from django.utils.translation import gettext_lazy as _

from compliance import models
from records.admin.base import FirmAdmin, FirmForm, ReadOnly, ReferenceAdmin
from records.admin.fields import LinesField
from records.admin.label_form import limit_lines, limits_of
from records.admin.treatments import shown_json


class FirmPolicyForm(FirmForm):
    limits = LinesField(label=_("limits"), help_text=_("One a line, with units: wind_speed max 8 mph."))

    class Meta:
        model = models.FirmPolicy
        exclude = ("firm",)

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.initial["limits"] = limit_lines(self.instance.limits)

    def clean_limits(self) -> list[dict]:
        return limits_of(self.cleaned_data["limits"])


@admin.register(models.FirmPolicy)
class FirmPolicyAdmin(ReferenceAdmin):
    form = FirmPolicyForm
    list_display = ("title", "in_force_from", "until", "required")
    search_fields = ("title",)


@admin.register(models.Determination)
class DeterminationAdmin(ReferenceAdmin):
    list_display = ("question", "answer", "by", "valid_from", "valid_to")
    search_fields = ("question", "answer", "by", "advice")


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
