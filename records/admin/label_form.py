"""The form of a label version: what the label says is ticked and typed, and held in the document's shape."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.text import format_lazy
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.admin.base import FirmForm
from records.admin.fields import LinesField, ListField, WordsField
from records.document.canonical import as_json
from records.document.faults import DocumentFaults
from records.document.reader import read_as
from records.document.types import ActiveIngredient, Label
from records.document.words import WORD_LISTS
from records.models import LabelVersion
from records.models.fields import word_choices
from shared.quantities import QuantityError, parse

Json = dict[str, Any]

_LIMIT = re.compile(r"(\w+)\s+(min|max)\s+(.+?)(?:\s+(min|max)\s+(.+))?", re.IGNORECASE)
_INGREDIENT = re.compile(
    r"(?P<name>.+?)\s+(?P<percent>[0-9]+(?:\.[0-9]+)?)\s*%(?:\s*(?P<basis>w/w|w/v|v/v))?"
)
_LISTS = ("targets", "not_on", "sites", "ppe", "protection", "statements")


class LabelVersionForm(FirmForm):
    label_kind = forms.ChoiceField(choices=lambda: word_choices("label_kind"), label=_("label kind"))
    ingredients = LinesField(
        label=_("active ingredients"), required=False, help_text=_("One a line: invented active 38 % w/w")
    )
    targets = WordsField("target", label=_("against"))
    sites = WordsField("surface_kind", label=_("allowed on"))
    not_on = ListField(
        label=_("not on"), required=False, help_text=_("Materials, with commas: copper, galvanized metal")
    )
    limits = LinesField(
        label=_("limits"),
        required=False,
        help_text=format_lazy(
            _("One a line, with units: wind_speed max 10 mph. Quantities: {names}."),
            names=", ".join(WORD_LISTS["limit_quantity"]),
        ),
    )
    ppe = WordsField("ppe", label=_("protective equipment"))
    restricted_use = forms.TypedChoiceField(
        choices=(("", _("Choose")), ("true", _("Yes")), ("false", _("No"))),
        coerce=lambda answer: answer == "true",
        label=_("restricted use"),
        help_text=_("Whether the label says that only certified applicators may buy and use it."),
    )
    protection = WordsField("step", label=_("steps that the label demands"))
    statements = LinesField(label=_("statements"), required=False, help_text=_("One a line, as printed."))

    class Meta:
        model = LabelVersion
        exclude = ("firm", "label", "active_ingredients")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        label = self.instance.label
        self.initial["restricted_use"] = {True: "true", False: "false"}.get(self.instance.restricted_use, "")
        self.initial["label_kind"] = label.get("kind", "main")
        self.initial["limits"] = limit_lines(label.get("limits", []))
        self.initial["ingredients"] = [_ingredient_line(each) for each in self.instance.active_ingredients]
        self.initial.update({name: label.get(name, []) for name in _LISTS})

    def clean_limits(self) -> list[Json]:
        return limits_of(self.cleaned_data["limits"])

    def clean_ingredients(self) -> list[Json]:
        return [_ingredient_of(line) for line in self.cleaned_data["ingredients"]]

    def clean(self) -> Json:
        data = super().clean()
        if not self.errors:
            stated = {name: data[name] for name in (*_LISTS, "limits")} | {"kind": data["label_kind"]}
            kept = {name: value for name, value in self.instance.label.items() if name == "digest"}
            self._keep(data, {**kept, **stated})
        return data

    def _keep(self, data: Json, label: Json) -> None:
        try:
            self.instance.label = as_json(read_as(Label, label, lambda *_: []))
        except DocumentFaults as error:
            for fault in error.faults:
                name = fault.path.partition(".")[0].partition("[")[0]
                self.add_error(name if name in self.fields else None, fault.say(get_language() or "en"))
        self.instance.active_ingredients = data["ingredients"]


def limit_lines(limits: list[Json]) -> list[str]:
    """Limits as a person types them: `temperature min 38 degF max 90 degF`."""
    return [_line_of(limit) for limit in limits]


def limits_of(lines: list[str]) -> list[Json]:
    """Typed limits in the document's shape. Raises ValidationError."""
    return [_limit_of(line) for line in lines]


def _line_of(limit: Json) -> str:
    sides = [f"{side} {_bound_text(limit[side])}" for side in ("min", "max") if side in limit]
    return " ".join([limit.get("of", ""), *sides])


def _bound_text(bound: Any) -> str:
    return f"{bound['value']} {bound['unit']}" if isinstance(bound, dict) else str(bound)


def _limit_of(line: str) -> Json:
    match = _LIMIT.fullmatch(line)
    if not match:
        raise ValidationError(
            _("%(line)s: expected, for example, wind_speed max 10 mph"), params={"line": line}
        )
    name, side, bound, other_side, other_bound = match.groups()
    limit = {"of": name, side.lower(): _bound_of(bound)}
    return {**limit, other_side.lower(): _bound_of(other_bound)} if other_side else limit


def _bound_of(text: str) -> Json | str:
    """A quantity, or a count (applications in a year) that has no unit."""
    if text.isdigit():
        return text
    try:
        return parse(text).as_json()
    except QuantityError as error:
        raise ValidationError(error.say(get_language() or "en")) from error


def _ingredient_line(ingredient: Json) -> str:
    return f"{ingredient['name']} {ingredient['percent']} % {ingredient.get('basis', '')}".strip()


def _ingredient_of(line: str) -> Json:
    match = _INGREDIENT.fullmatch(line)
    if not match:
        raise ValidationError(
            _("%(line)s: expected, for example, invented active 38 %% w/w"), params={"line": line}
        )
    found = {name: value for name, value in match.groupdict().items() if value}
    return as_json(read_as(ActiveIngredient, found, lambda *_: []))
