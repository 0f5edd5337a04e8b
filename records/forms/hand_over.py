"""What of a record is left out of what is handed over."""

from django import forms
from django.conf import settings
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.document.member_labels import member_label
from records.document.personal import PERSONAL, STAYS
from records.services.handing_over import AT_FIRST, left_out

SECTIONS = [name for name in (*PERSONAL, *STAYS) if name != "schema"]


def section_choices() -> list[tuple[str, str]]:
    """The sections of a record by name: first those that say something of people."""
    language = (get_language() or "en")[:2]
    return [(name, member_label(name, language)) for name in SECTIONS]


class HandOverForm(forms.Form):
    withheld = forms.MultipleChoiceField(
        label=_("Leave out"),
        help_text=_(
            "What is left out is named as withheld, and what is there verifies all the same. Notices may name "
            "neighbours, so they are ticked. Notices and incidents may name the customer, too: they are left "
            "out along with the customer. Follow-ups may as well and can't be left out: read them before."
        ),
        initial=list(AT_FIRST),
        choices=section_choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    sheets = forms.MultipleChoiceField(
        label=_("Record sheets (PDF) beside the data"),
        choices=settings.LANGUAGES,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    photos = forms.MultipleChoiceField(
        label=_("Photos"),
        help_text=_("Where the site or the customer is left out, no photo goes out: it may show the house."),
        initial=["named"],
        choices=[("named", _("The photos that the records name, as they came"))],
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    def clean_withheld(self) -> list[str]:
        withheld = left_out(self.cleaned_data["withheld"])
        return [name for name in SECTIONS if name in withheld]
