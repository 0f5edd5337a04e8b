"""Times that a person enters, on the clock of the firm or of where it happened."""

from datetime import datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from records.document.time_kinds import YEARS
from records.forms.dates import DayField

END_OF_DAY = time(23, 59)


class FirmTimeField(forms.DateTimeField):
    """A day and a time on the firm's clock, which Django's own field would read on the service's."""

    widget = forms.DateTimeInput({"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")
    zone = ZoneInfo("UTC")

    def to_python(self, value: Any) -> datetime | None:
        found = super().to_python(value)
        if found is None:
            return None
        if found.year not in YEARS:
            years = {"first": YEARS.start, "last": YEARS.stop - 1}
            raise ValidationError(_("Give a year from %(first)s to %(last)s."), params=years)
        return found.replace(tzinfo=self.zone)


class DayAndTime(forms.MultiWidget):
    """Two boxes, since one for both is sent as nothing while the time is open."""

    template_name = "records/widgets/quantity.html"
    use_fieldset = False

    def __init__(self) -> None:
        day = forms.DateInput({"type": "date"}, format="%Y-%m-%d")
        hour = forms.TimeInput({"type": "time", "aria-label": gettext_lazy("Time, if they named one")}, "%H:%M")
        super().__init__({"day": day, "time": hour})

    def decompress(self, value: datetime | None) -> list[Any]:
        if value is None:
            return [None, None]
        return [value.date(), None if value.time() == END_OF_DAY else value.time()]

    def id_for_label(self, id_: str) -> str:
        return f"{id_}_0"


class DueField(forms.MultiValueField):
    """A day on the firm's clock by which something is wanted, all of it unless a time is named."""

    zone = ZoneInfo("UTC")

    def __init__(self, **kwargs: Any) -> None:
        fields = (DayField(required=False), forms.TimeField(required=False))
        super().__init__(fields, widget=DayAndTime(), require_all_fields=False, **kwargs)

    def compress(self, data_list: list[Any]) -> datetime | None:
        day, hour = data_list or (None, None)
        if day is None and hour is not None:
            raise ValidationError(_("Give the day, too."))
        return day and datetime.combine(day, hour or END_OF_DAY, self.zone)
