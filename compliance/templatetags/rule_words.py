"""Words of the rulebook for a person."""

from django import template
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from compliance.said_in import cite_in
from records.templatetags.treatments import language

register = template.Library()

LEVELS: dict[str, str | Promise] = {"required": _("Required"), "advised": _("Advised")}
STAGES: dict[str, str | Promise] = {
    "before": _("Due before the work starts"),
    "during": _("Due while the work goes on"),
    "after": _("Due after the work"),
}
TEXTS: dict[str, str | Promise] = {
    "found": _("read in its own words"),
    "restated": _("read as restated elsewhere"),
    "memory": _("from memory, not confirmed"),
}


@register.filter
def level_word(level: str) -> str | Promise:
    return LEVELS[level]


@register.filter
def stage_word(stage: str) -> str | Promise:
    return STAGES[stage]


@register.filter
def text_word(text: str) -> str | Promise:
    """How the text that a rule rests on was read."""
    return TEXTS[text]


@register.filter
def cited(said: str) -> str:
    """A citation, or what is said of a source, in the reader's language."""
    return cite_in(said, language())
