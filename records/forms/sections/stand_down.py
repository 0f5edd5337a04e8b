"""A day that does not happen: its wind reading and its reason, beside the way through the other screens."""

from django.utils.translation import gettext_lazy as _

from records.forms.sections.readings import wind_alone
from records.forms.table import Folded, Question, Section, StandDownReasons

STAND_DOWN = Section(
    "stand-down",
    _("Stand this treatment down"),
    _(
        "A day that did not happen, with its wind reading, is evidence of care. It is signed like any other "
        "day."
    ),
    (
        wind_alone(_("The wind, if you took it")),
        StandDownReasons(_("Why is it stood down?")),
        Folded(
            _("What the record says"),
            (
                Question("record.result", _("What became of the treatment")),
                Question("record.why", _("If it was stood down or not finished: why")),
            ),
        ),
    ),
    (),
    ("wind_speed", "wind_speed_min", "gust", "temperature"),
)
