"""Spraying: start and finish, pauses, what went out, the weather while it went on."""

from django.utils.translation import gettext_lazy as _

from records.forms.amounts_left import applied_of, nothing_left
from records.forms.sections.readings import readings
from records.forms.table import Items, Offer, Question, Section, Spread

SPRAY = Section(
    "spray",
    _("Spray"),
    _("When spraying began and ended, what was used, and the weather while it went on."),
    (
        Question("timing.started_at", _("Spraying started"), now=True),
        Question("timing.finished_at", _("Spraying finished"), now=True),
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
        Items(
            "mixes",
            _("What was applied"),
            _("Mix"),
            "",
            (
                Question(
                    "applied",
                    _("Finished mix applied"),
                    unit="gal",
                    offers=Offer(
                        "applied",
                        applied_of,
                        _("Take %(what)s: all that was mixed, without what was left"),
                        nothing_left,
                        _("Take %(what)s: all that was mixed, none left"),
                    ),
                ),
                Question("measured_by", _("How it was measured"), as_before=True),
                Spread(
                    "surfaces",
                    _("Of it, on each surface"),
                    "surface",
                    "applied",
                    unit="gal",
                    names="surfaces[].name",
                ),
            ),
            begun_elsewhere=True,
        ),
        readings(_("Wind and weather")),
    ),
    (
        "timing.started_at",
        "timing.finished_at",
        "timing.pauses",
        "timing.recorded_at",
        "mixes[].applied",
        "mixes[].measured_by",
        "mixes[].surfaces",
    ),
    ("wind_speed", "wind_speed_min", "gust", "temperature", "coverage", "product_rate"),
)
