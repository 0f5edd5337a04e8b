"""Wind and weather, asked before the start and again during the work."""

from dataclasses import replace

from django.utils.translation import gettext_lazy as _

from records.forms.table import Block, Folded, Items, Question, WindSeen

_WHEN: tuple[Block, ...] = (
    Question("at", _("When"), now=True),
    Question("calm", _("Is the air calm?"), _("Calm air has no direction.")),
)
_WIND: tuple[Block, ...] = (
    WindSeen(_("No instrument? Go by what you see"), "mph"),
    Question("wind_speed", _("Wind speed"), unit="mph"),
)
_WEATHER: tuple[Block, ...] = (
    Question("wind_from", _("Wind comes from"), compass=True),
    Question("temperature", _("Air temperature"), unit="degF"),
    Question("sky", _("Sky")),
    Question("source", _("How it was measured"), as_before=True),
)
_MORE: tuple[Block, ...] = (
    Question("gust", _("Gusts up to"), unit="mph"),
    Question("wind_variable", _("Does the direction change?")),
    Question("relative_humidity", _("Relative humidity"), unit="percent", alone=True),
    Question("by", _("Read by"), names="people[].name"),
)
_READING = (*_WHEN, *_WIND, *_WEATHER, Folded(_("Gusts, humidity, who read it"), _MORE))
_WIND_ALONE = (*_WIND, Folded(_("When, direction, gusts and the rest"), (*_WHEN, *_WEATHER, *_MORE)))


def wind_alone(title: str) -> Items:
    """A reading that stands open, with the wind in front."""
    return replace(readings(title), blocks=_WIND_ALONE, opens_one=True, hint="")


def readings(title: str) -> Items:
    return Items(
        "weather.readings",
        title,
        _("Reading"),
        _("Add a reading"),
        _READING,
        called="at",
        begun_at="at",
        hint=_("A reading counts from 30 minutes before the start to the finish of spraying."),
    )
