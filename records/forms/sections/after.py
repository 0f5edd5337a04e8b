"""After: what is left and where it went, what is rinsed, when people may come back, what went wrong."""

from django.utils.translation import gettext_lazy as _

from records.forms.amounts_left import left_over_of
from records.forms.reentry import earliest_reentry
from records.forms.sections.protect import AFTER_THE_WORK, STEP_DETAILS
from records.forms.table import Items, Offer, Question, Section, Shown, Spread, Ticks

AFTER = Section(
    "after",
    _("After"),
    _("What was left, what was rinsed, when people may come back, and anything unusual."),
    (
        Question("record.result", _("What became of the treatment")),
        Question("record.why", _("If it was stood down or not finished: why")),
        Items(
            "mixes",
            _("Left over"),
            _("Mix"),
            "",
            (
                Question(
                    "left_over.amount",
                    _("Amount left over"),
                    unit="gal",
                    offers=Offer("left-over", left_over_of, _("Take %(what)s: the rest of what was mixed")),
                ),
                Question("left_over.disposition", _("What became of it")),
                Question(
                    "left_over.surface", _("If it was sprayed: on which surface"), names="surfaces[].name"
                ),
            ),
            begun_elsewhere=True,
        ),
        Ticks(
            "protection",
            _("Rinsed"),
            "step",
            ((_("Plants and metal"), AFTER_THE_WORK),),
            details=STEP_DETAILS,
        ),
        Shown((("postings", _("Signs that stay up")),)),
        Question(
            "timing.reentry_at",
            _("Treated area may be entered again from"),
            _("Not before the label allows it."),
            offers=Offer("reentry", earliest_reentry, _("Take %(what)s, by the label")),
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
            takes_photos=True,
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
        Question("notes", _("Notes")),
    ),
    (
        "timing",
        "incidents",
        "notes",
        "record.result",
        "record.why",
        "mixes[].left_over",
        "people[].positions",
    ),
    ("reentry", "hours_dry_after"),
)
