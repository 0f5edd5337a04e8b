"""The entries behind a tick, as the form says them beside its box."""

from django import template
from django.utils.translation import gettext as _

from records.forms.bound import TickList
from records.forms.ticks_told import entries_of, is_told, said_of

register = template.Library()


@register.filter
def ticked_by(ticks: TickList, word: str) -> str:
    """Who ticked it and when, where that is not just the person who fills in the page; else ''."""
    return _("Ticked by %(who)s.") % {"who": said_of(entries_of(ticks, word))} if is_told(ticks, word) else ""
