"""For how long a link to a bundle works."""

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext_lazy

DAYS = (1, 3, 7, 14)
_A_DAY = ngettext_lazy("%(n)d day", "%(n)d days", "n")


def _choices() -> list[tuple[int, str]]:
    return [(each, _A_DAY % {"n": each}) for each in DAYS]


class LinkForm(forms.Form):
    days = forms.TypedChoiceField(label=_("It works for"), coerce=int, initial=3, choices=_choices)
