"""The two moments that a time may be, where the clocks were put back and showed it twice."""

from django import template
from django.utils.translation import gettext as _

from records.forms.bound import Field
from records.forms.moment import Moment

register = template.Library()


@register.filter
def which(field: Field) -> list[tuple[str, str]]:
    """Their offsets, each with words; nothing for a time that was there once."""
    control = field.control
    offsets = control.which(field.typed) if isinstance(control, Moment) else ()
    first = _("The first, before the clocks were put back (UTC%(offset)s)")
    second = _("The second, after they were put back (UTC%(offset)s)")
    return [(offset, said % {"offset": offset}) for offset, said in zip(offsets, (first, second), strict=False)]
