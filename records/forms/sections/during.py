"""During: the start, wind and weather, pauses."""

from django.utils.translation import gettext_lazy as _

from records.forms.sections.readings import readings
from records.forms.table import Items, Question, Section

DURING = Section(
    "during",
    _("During"),
    _("When spraying began, and the weather while it went on."),
    (
        Question("timing.started_at", _("Spraying started"), now=True),
        readings(_("Wind and weather")),
        Items(
            "timing.pauses",
            _("Pauses"),
            _("Pause"),
            _("Add a pause"),
            (
                Question("started_at", _("From"), now=True),
                Question("finished_at", _("To"), now=True),
                Question("note", _("Why")),
            ),
        ),
    ),
    ("timing.started_at", "weather", "timing.pauses"),
    ("wind_speed", "wind_speed_min", "gust", "temperature"),
)
