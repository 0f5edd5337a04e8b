"""Weather before the start: a reading of the wind, and the forecast."""

from django.utils.translation import gettext_lazy as _

from records.forms.sections.readings import readings
from records.forms.table import Folded, Question, Section

WEATHER = Section(
    "weather",
    _("Weather"),
    _("Take the wind, and look at how long it stays dry."),
    (
        readings(_("Wind and weather before the start")),
        Question("weather.forecast.dry_until", _("Forecast: dry until")),
        Folded(
            _("Who made the forecast, and the chance of rain"),
            (
                Question("weather.forecast.source", _("Forecast from")),
                Question("weather.forecast.issued_at", _("Forecast issued")),
                Question("weather.forecast.rain_probability", _("Chance of rain"), unit="percent", alone=True),
            ),
        ),
    ),
    ("weather",),
    ("wind_speed", "wind_speed_min", "gust", "temperature", "hours_dry_after"),
)
