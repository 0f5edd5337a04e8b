"""Protection before spraying: against runoff and drift, who was told, and signs."""

from django.utils.translation import gettext_lazy as _

from records.forms.called_for import steps_called_for
from records.forms.table import Items, Question, Section, Ticks

AFTER_THE_WORK = ("plants-rinsed", "metal-rinsed")

STEP_DETAILS = (
    Question("features", _("Where"), names="site.features[].name"),
    Question("at", _("When"), now=True),
    Question("by", _("By whom"), names="people[].name"),
    Question("note", _("Note")),
)

PROTECT = Section(
    "protect",
    _("Protect"),
    _("Protect what must be protected, and tell who must be told."),
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
                (_("Plants"), ("plants-pre-wet", "plants-covered")),
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
                        "overspray-shielded",
                        "other",
                    ),
                ),
            ),
            details=STEP_DETAILS,
            none=_("None of these was done"),
            hint=_("Tick what is done. The time and your name are noted; both can be changed."),
            called_for=steps_called_for,
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
    ("protection", "notices", "postings"),
    ("buffer",),
)
