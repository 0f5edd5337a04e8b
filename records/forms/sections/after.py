"""After: the end, what was applied, what was left, what went wrong."""

from django.utils.translation import gettext_lazy as _

from records.forms.reentry import earliest_reentry
from records.forms.table import Items, Question, Section, Spread

AFTER = Section(
    "after",
    _("After"),
    _("When spraying ended, what was used, and anything unusual."),
    (
        Question("record.result", _("What became of the treatment")),
        Question("record.why", _("If it was stood down: why")),
        Question("timing.finished_at", _("Spraying finished"), now=True),
        Items(
            "mixes",
            _("What was applied"),
            _("Mix"),
            "",
            (
                Question("applied", _("Finished mix applied"), unit="gal"),
                Question("measured_by", _("How it was measured")),
                Spread(
                    "surfaces",
                    _("Of it, on each surface"),
                    "surface",
                    "applied",
                    unit="gal",
                    names="surfaces[].name",
                ),
                Question("left_over.amount", _("Left over"), unit="gal"),
                Question("left_over.disposition", _("What became of it")),
            ),
        ),
        Items(
            "people",
            _("Where people worked"),
            _("Person"),
            "",
            (
                Spread(
                    "positions", _("Time on the ground, ladder, lift and roof"), "where", "time", unit="min"
                ),
            ),
            called="name",
        ),
        Question(
            "timing.reentry_at",
            _("Treated area may be entered again from"),
            _("Not before the label allows it."),
            offers=earliest_reentry,
        ),
        Items(
            "incidents",
            _("Anything that went wrong"),
            _("Incident"),
            _("Add an incident"),
            (
                Question("kind", _("What happened")),
                Question("at", _("When")),
                Question("description", _("In your words")),
                Question("amount", _("Amount spilled or drifted"), unit="gal"),
                Question("action", _("What was done about it")),
                Question("reported_to", _("Reported to")),
                Question("reported_at", _("Reported")),
            ),
            called="kind",
            none=_("Nothing went wrong"),
        ),
        Question("notes", _("Notes")),
    ),
    (
        "timing",
        "incidents",
        "notes",
        "record.result",
        "record.why",
        "mixes[].applied",
        "mixes[].measured_by",
        "mixes[].surfaces",
        "mixes[].left_over",
        "people[].positions",
    ),
    ("reentry", "coverage", "product_rate", "hours_dry_after"),
)
