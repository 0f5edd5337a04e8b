"""What a person says of a report that they send."""

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.reports.periods import Period, read_period


class FileForm(forms.Form):
    """`opens`: how many things in the report are open. `amends`: one was filed before. `nil`: no signed record
    counts, which is no word yet that nothing was done."""

    sent_on = forms.DateField(
        label=gettext_lazy("Sent on"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d")
    )
    how = forms.CharField(
        label=gettext_lazy("How it was sent"),
        max_length=300,
        help_text=gettext_lazy("For example: by post to the county office; typed into their page."),
    )
    reason = forms.CharField(label=gettext_lazy("Why it amends the one before"), max_length=500)
    seen = forms.BooleanField(label=gettext_lazy("I have seen what is open in it"))
    nothing = forms.BooleanField(
        label=gettext_lazy("Nothing was applied in this time"),
        help_text=gettext_lazy("Not even by work that is on record elsewhere, or on no record."),
    )
    shown = forms.CharField(widget=forms.HiddenInput, max_length=100)

    def __init__(
        self, period: Period, today: date, *args: Any, opens: int, amends: bool, nil: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.period, self.today = period, today
        if not opens:
            del self.fields["seen"]
        if not nil:
            del self.fields["nothing"]
        if not amends:
            del self.fields["reason"]

    def clean_sent_on(self) -> date:
        day: date = self.cleaned_data["sent_on"]
        if day > self.today:
            raise ValidationError(_("This day is still to come."))
        if day <= self.period.last:
            raise ValidationError(_("The time that it tells of was not over then."))
        return day


class PeriodForm(forms.Form):
    of = forms.CharField(
        label=gettext_lazy("Month or year"),
        max_length=7,
        help_text=gettext_lazy("For example 2026-09 for a month, 2026 for a year."),
    )

    def clean_of(self) -> Period:
        try:
            return read_period(self.cleaned_data["of"].strip())
        except ValueError:
            raise ValidationError(_("Write a month as 2026-09, or a year as 2026.")) from None
