"""What follows from the record and is taken at a touch, by the service or by a device without a connection."""

import json
from dataclasses import replace

from django import template

from records.forms.bound import Field
from records.forms.fills import fills_for
from records.forms.table import Words
from records.templatetags.treatments import answer
from shared.quantities import UNITS, units_of

register = template.Library()
DIMENSIONS = ("volume", "time")


@register.filter
def offer_words(field: Field) -> str:
    """What is offered for the field, as a person reads it."""
    if field.offers is None:
        return ""
    words = field.offers.saying_so if field.offer_follows else field.offers.words
    return str(words) % {"what": answer(replace(field, value=field.offer))}


@register.filter
def fills(field: Field) -> str:
    """What taking the field's offer fills in."""
    return json.dumps(fills_for(field, field.offer))


@register.filter
def follows(field: Field) -> str:
    """By path, what else is so when it is taken."""
    return json.dumps(field.offer_follows)


@register.filter
def for_device(words: Words) -> str:
    """The words with a place for what is offered."""
    return str(words) % {"what": "WHAT"}


@register.filter
def may_follow(field: Field) -> str:
    """By path, what else is so when it is taken and nothing is said of it yet."""
    found = field.offers.follows({}) if field.offers and field.offers.follows else {}
    owner = field.path.rpartition(".")[0]
    return json.dumps({f"{owner}.{member}": value for member, value in found.items()})


@register.simple_tag
def units_of_offers() -> str:
    """How much of one and the same each unit is, numerator and denominator."""
    units = [unit for dimension in DIMENSIONS for unit in units_of(dimension)]
    return json.dumps({unit: [str(part) for part in UNITS[unit].ratio] for unit in units})
