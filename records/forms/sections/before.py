"""Before spraying: protection, wind, forecast, who was told."""

from django.utils.translation import gettext_lazy as _

from records.forms.sections.readings import readings
from records.forms.table import Folded, Items, Question, Section, Ticks

BEFORE = Section(
    "before",
    _("Before spraying"),
    _("Protect what must be protected, tell who must be told, and take the wind."),
    (
        Ticks(
            "protection",
            _("Protection done"),
            "step",
            (
                (
                    _("Against runoff"),
                    (
                        "downspouts-diverted",
                        "downspouts-plugged",
                        "storm-drains-covered",
                        "drains-bermed",
                        "gutters-cleared",
                        "runoff-collected",
                        "ponds-covered",
                        "rain-barrels-disconnected",
                    ),
                ),
                (_("Plants"), ("plants-pre-wet", "plants-covered", "plants-rinsed")),
                (
                    _("People, animals and things"),
                    (
                        "people-told-on-arrival",
                        "area-closed-off",
                        "windows-closed",
                        "air-intakes-closed",
                        "animals-brought-in",
                        "toys-and-furniture-moved",
                        "vehicles-moved",
                        "metal-rinsed",
                        "overspray-shielded",
                        "other",
                    ),
                ),
            ),
            details=(
                Question("features", _("Where"), names="site.features[].name"),
                Question("at", _("When"), now=True),
                Question("by", _("By whom"), names="people[].name"),
                Question("note", _("Note")),
            ),
            none=_("None of these was done"),
            hint=_("Tick what is done. The time and your name are noted; both can be changed."),
        ),
        readings(_("Wind and weather before the start")),
        Question("weather.forecast.dry_until", _("Forecast: dry until")),
        Folded(
            _("Who made the forecast, and the chance of rain"),
            (
                Question("weather.forecast.source", _("Forecast from")),
                Question("weather.forecast.issued_at", _("Forecast issued")),
                Question("weather.forecast.rain_probability", _("Chance of rain"), unit="percent"),
            ),
        ),
        Items(
            "notices",
            _("Who was told"),
            _("Notice"),
            _("Add a notice"),
            (
                Question("to", _("To whom")),
                Question("name", _("Name"), _("Of a customer or occupant only, never of a neighbour.")),
                Question("means", _("By what means")),
                Question("sent_at", _("Sent"), now=True),
                Question("delivered_at", _("Delivered")),
            ),
            called="name",
            none=_("Nobody was told"),
        ),
        Items(
            "postings",
            _("Signs put up"),
            _("Sign"),
            _("Add a sign"),
            (
                Question("where", _("Where")),
                Question("width", _("Width"), unit="inch"),
                Question("height", _("Height"), unit="inch"),
                Question(
                    "letters",
                    _("Height of the letters"),
                    _("The smallest letters of the words that the law prescribes."),
                    unit="inch",
                ),
                Question("posted_at", _("Put up"), now=True),
            ),
            called="where",
            none=_("No sign was put up"),
        ),
    ),
    ("protection", "notices", "postings", "weather.forecast"),
    ("wind_speed", "wind_speed_min", "gust", "temperature", "hours_dry_after", "buffer"),
)
