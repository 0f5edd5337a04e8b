"""What a member of the firm types when they have done something with a notice."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext_lazy as _

from records.models import Notice, User
from records.outbox.by_hand import Deed, NotNowError, NotThenError, do, kind_of, photo_of
from records.photo_faults import PhotoError
from records.services.drafts import NotADraftError

NOT_NOW = _("That can't be done with this notice now. See what it is by now.")
NO_MOMENT = _("This is not a day and a time. For example: 14 September 2026, 09:12.")
TO_COME = _("This moment is still to come.")
BEFORE_MADE = _("This is before the notice was made.")
SIGNED = _("The record is signed already, so no photo can be added to it. Send it without the photo.")


class DeedForm(forms.Form):
    """`at` is by the clock at the site; empty for just now."""

    deed = forms.CharField(label=_("What was done"), required=False)
    words = forms.CharField(label=_("Words, such as who took it"), required=False, max_length=500)
    at = forms.CharField(label=_("When, if not just now"), required=False)
    photo = forms.FileField(label=_("A photo of it, if there is one"), required=False, allow_empty_file=True)

    def __init__(self, *given: Any, notice: Notice) -> None:
        super().__init__(*given, auto_id=f"%s-{notice.pk}")
        self.notice = notice

    def clean_at(self) -> datetime | None:
        if not (text := self.cleaned_data["at"]):
            return None
        zone = ZoneInfo(self.notice.site.time_zone or self.notice.firm.time_zone)
        try:
            moment = _moment(text, zone)
        except (ValueError, OverflowError):
            raise ValidationError(NO_MOMENT) from None
        return moment

    def keep(self, by: User, language: str) -> bool:
        """Keep what was done, once it is valid; False where it can't have been, which then stands beside its
        field. Raises PermissionDenied."""
        said = self.cleaned_data
        deed = Deed(said["deed"], said["words"], at=said["at"])
        try:
            kind_of(self.notice, deed, by)
            photo = photo_of(self.notice.treatment, said["photo"], by)
            do(self.notice, replace(deed, photo=photo), by)
        except NotNowError:
            self.add_error("deed", NOT_NOW)
        except NotThenError as error:
            self.add_error("at", TO_COME if error.to_come else BEFORE_MADE)
        except PhotoError as error:
            self.add_error("photo", error.say(language))
        except NotADraftError:
            self.add_error("photo", SIGNED)
        return not self.errors


def _moment(text: str, zone: ZoneInfo) -> datetime:
    """Raises ValueError, also for a time that the clocks skip, and OverflowError at the end of the calendar."""
    typed = parse_datetime(text)
    if typed is None:
        raise ValueError(text)
    moment = typed if typed.tzinfo else typed.replace(tzinfo=zone)
    if moment.astimezone(UTC).astimezone(moment.tzinfo).replace(tzinfo=None) != moment.replace(tzinfo=None):
        raise ValueError(text)
    return moment
