"""Forms that end in a signature: each asks for the signer's password."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.document.words import WORD_LISTS
from records.forms.dates import DayField
from records.forms.photos import PhotosField
from shared import clock


def word_choices(word_list: str) -> list[tuple[str, str]]:
    """A closed list of the document as choices in the reader's language."""
    language = (get_language() or "en")[:2]
    return [(word, wording.say(language)) for word, wording in WORD_LISTS[word_list].items()]


class SignatureForm(forms.Form):
    """The password of the user who is signed in. Whether it fits is for the service that signs to say."""

    password = forms.CharField(
        label=_("Your password"),
        help_text=_("Your signature: it says that you, by name, stand for this."),
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
        strip=False,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.order_fields([*(name for name in self.fields if name != "password"), "password"])


class VoidForm(SignatureForm):
    reason = forms.CharField(
        label=_("Why does this record not hold?"), max_length=2000, widget=forms.Textarea({"rows": 3})
    )


class FollowUpForm(SignatureForm):
    kind = forms.ChoiceField(
        label=_("What happened"), choices=lambda: word_choices("follow_up_kind"), widget=forms.RadioSelect
    )
    day = DayField(label=_("Day"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    time = forms.TimeField(label=_("Time"), widget=forms.TimeInput({"type": "time"}, format="%H:%M"))
    detail = forms.CharField(
        label=_("In your words"), max_length=2000, required=False, widget=forms.Textarea({"rows": 3})
    )
    photos = PhotosField(
        label=_("Photos"),
        help_text=_("JPEG or PNG, at most 25 MB each. The follow-up names each by its digest."),
        required=False,
    )

    def __init__(
        self, zone: str, *args: Any, at: datetime | None = None, initial: Any = None, **kwargs: Any
    ) -> None:
        moment = (at or clock.now()).astimezone(ZoneInfo(zone))
        shown = {"day": moment.date(), "time": moment.time(), **(initial or {})}
        super().__init__(*args, initial=shown, **kwargs)


class NewKeyForm(SignatureForm):
    replaces = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["password"].help_text = _("Your name is kept with the change.")


class EraseForm(SignatureForm):
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["password"].help_text = _("Your name is kept with what was erased.")


class HoldForm(forms.Form):
    """Why a record is held, or held no longer."""

    reason = forms.CharField(label=_("Why?"), max_length=2000, widget=forms.Textarea({"rows": 3}))


class ReasonForm(forms.Form):
    """Why a correction is needed."""

    reason = forms.CharField(
        label=_("What was wrong at signing?"),
        help_text=_("It stands on the corrected record."),
        max_length=2000,
        widget=forms.Textarea({"rows": 3}),
    )
