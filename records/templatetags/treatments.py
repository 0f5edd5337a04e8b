"""How quantities, words of closed lists and moments are said in templates."""

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django import template
from django.conf import settings
from django.utils import formats
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from records.document.words import WORD_LISTS
from records.forms.bound import Field, TickList
from records.forms.compass import POINTS, Compass
from records.forms.controls import Amounts, Choice, Measure, OneOf, Typed
from records.forms.earlier import Before
from records.forms.fills import fills_for
from records.forms.moment import Moment
from records.forms.read_on_device import told_of, told_of_ticks
from records.moments_said import said_hour, said_moment
from shared.quantities import QuantityError
from shared.quantities import read as read_quantity
from shared.wording import Sayable

register = template.Library()


def language() -> str:
    return (get_language() or "en")[:2]


@register.filter
def said(value: Sayable | dict | None) -> str:
    """A quantity, wording or sentence in the reader's language; a quantity may come as JSON."""
    if value is None:
        return ""
    if isinstance(value, dict):
        if "en" in value:
            return str(value[language()])
        try:
            return read_quantity(value).say(language())
        except QuantityError:
            return f"{value.get('value', '')} {value.get('unit', '')}"
    return value.say(language()) if hasattr(value, "say") else str(value)


@register.simple_tag
def mail_goes_out() -> bool:
    return bool(settings.MAIL_GOES_OUT)


@register.filter
def word(value: str | None, word_list: str) -> str:
    """A word of a closed list as a person reads it."""
    wording = WORD_LISTS[word_list].get(value or "")
    return wording.say(language()) if wording else value or ""


@register.filter
def moment(value: str | datetime | None, zone: str | None = None) -> str:
    """A moment as a person reads it: day and time as written, or in `zone`."""
    return said_moment(value, zone)


@register.filter
def moment_and_offset(value: str | datetime | None, zone: str | None = None) -> str:
    """A moment with its offset from UTC, for those who may read it elsewhere."""
    return said_moment(value, zone, always=True)


@register.filter
def day_at(moment: datetime, zone: str) -> str:
    """The day in `zone`."""
    return formats.date_format(moment.astimezone(ZoneInfo(zone)), "DATE_FORMAT")


@register.filter
def hour(value: datetime, zone: str) -> str:
    """The time of day in `zone`."""
    return said_hour(value, zone)


@register.filter
def compass(bearing: dict[str, str]) -> str:
    """A bearing by the point of the compass, in degrees between two points."""
    points = dict(Compass().choices)
    return str(points.get(bearing.get("value", ""), "")) or said(bearing)


@register.filter
def point(bearing: str) -> str:
    """The letters of a point of the compass."""
    return str(POINTS.get(bearing, ""))


@register.filter
def is_between(field: Field) -> bool:
    """Whether a direction is between the points of the dial."""
    return isinstance(field.control, Compass) and field.control.is_between(field.typed)


@register.filter
def address(value: dict[str, str] | None) -> str:
    """An address of the document in one line."""
    parts = value or {}
    town = " ".join(parts[name] for name in ("city", "region", "postcode") if parts.get(name))
    return ", ".join(part for part in (parts.get("line1"), parts.get("line2"), town) if part)


@register.filter
def places(signs: Sequence[dict[str, Any]] | None) -> str:
    """Where signs were put up, in one line."""
    return ", ".join(sign["where"] for sign in signs or [] if sign.get("where"))


@register.filter
def none_or_not_recorded(items: object) -> str:
    """What a list without items says: an empty one that there is none, one left out that nobody has said."""
    return _("None") if items == [] else _("Not recorded")


@register.filter
def as_text(typed: Typed) -> str:
    """What stands in a control, as one text for a hidden input."""
    return json.dumps(list(typed))


@register.filter
def units(measure: Measure) -> list[tuple[str, str]]:
    return measure.units(language())


@register.filter
def pairs(amounts: Amounts, typed: Typed) -> list[tuple[Choice, Typed]]:
    return amounts.pairs(typed)


@register.filter
def answer(field: Field) -> str:
    """What was answered to a question of the form, as a person reads it."""
    value, control = field.value, field.control
    if value is None:
        return ""
    if isinstance(control, Moment):
        return moment(value, control.zone)
    if isinstance(control, OneOf):
        labels = dict(control.choices)
        return ", ".join(str(labels.get(typed, typed)) for typed in control.shown(value))
    if isinstance(control, Amounts):
        labels = dict(control.keys)
        return ", ".join(
            f"{labels.get(item[control.key], item[control.key])}: {said(item[control.amount])}"
            for item in value
            if item.get(control.key) and item.get(control.amount)
        )
    return said(value)


@register.filter
def fills_lot(field: Field, number: str) -> str:
    """What taking a lot on hand fills in."""
    return json.dumps(fills_for(field, number))


@register.filter
def fills_of_all(before: Before) -> str:
    """What taking everything as it was before fills in."""
    return json.dumps([fill for field, value in before.values for fill in fills_for(field, value)])


@register.filter
def said_before(before: Before) -> str:
    """What was answered before, as a person reads it."""
    return "; ".join(answer(replace(field, value=value)) for field, value in before.values)


@register.filter
def day(written: str) -> str:
    """The day of a moment as it was written."""
    return formats.date_format(date.fromisoformat(written[:10]), "DATE_FORMAT") if written else ""


@register.filter
def as_json(value: Any) -> str:
    return json.dumps(value)


@register.filter
def told(asked: Field | TickList) -> str:
    """How a device reads the field, or the list of ticks, by itself."""
    return json.dumps(told_of_ticks(asked) if isinstance(asked, TickList) else told_of(asked))
