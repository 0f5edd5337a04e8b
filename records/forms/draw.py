"""Drawing from a tank that was filled before: the form within a mix, and what its buttons do."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils import formats
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from records.document.edits import Edit
from records.document.placing import value_at
from records.document.types import DOCUMENT_SCHEMA
from records.filled_tank import TAKEN, FilledTank, as_mix, drawn
from records.forms.bound import Item, slug_of
from records.forms.kept_choices import shown_as
from records.forms.posted import Posted
from records.forms.row_facts import facts_of_mix
from records.forms.typed_quantity import TypedQuantityField
from records.tanks import tanks_of
from shared.quantities import UNITS, Quantity, units_of
from shared.times import read_time, read_zone

Setting = Mapping[str, Any]


UNTOLD = {
    "required": gettext_lazy("Choose the tank that it was drawn from."),
    "invalid_choice": gettext_lazy(
        "That tank is there no more: it was emptied or taken out. Enter the products and the water."
    ),
}


def _as_texts(ratio: Sequence[int]) -> list[str]:
    return [str(part) for part in ratio]


class DrawForm(forms.Form):
    tank = forms.ChoiceField(label=gettext_lazy("Which tank"), widget=forms.RadioSelect, error_messages=UNTOLD)
    amount = TypedQuantityField("volume", unit="gal", label=gettext_lazy("Amount drawn for this treatment"))

    kept: Sequence[Mapping[str, Any]] = ()
    """The tanks as a device keeps them, to draw from without a connection."""

    units: Mapping[str, Sequence[str]] = {unit: _as_texts(UNITS[unit].ratio) for unit in units_of("volume")}
    """How much of one and the same each is, numerator and denominator, for the device to convert exactly."""

    def __init__(self, tanks: Sequence[tuple[str, str]], data: Any, prefix: str) -> None:
        super().__init__(data, prefix=prefix)
        self.fields["tank"].choices = tanks


def words_for(tank: FilledTank, setting: Setting, language: str) -> str:
    """The tank as the crew knows it: when it was filled or how old it is, with what, and how much is left."""
    (stated,) = tanks_of({"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [tank.mix]}, language)
    lines = (" ".join(filter(None, (line.product.get("name"), line.strength))) for line in stated.lines)
    blanks = {"what": ", ".join(lines), "left": tank.left.say(language), "when": _when(tank, setting)}
    if tank.is_left_over:
        return _("Left over %(when)s: %(what)s, %(left)s") % blanks
    return _("Tank filled %(when)s: %(what)s, %(left)s left") % blanks


def drawing_of(item: Item, setting: Setting, language: str, data: Any) -> DrawForm | None:
    """The form of one mix; with `data`, as it was filled in if its button was pressed and there is a fault."""
    tanks = [(tank.key, words_for(tank, setting, language)) for tank in setting["tanks"]()]
    pressed = data is not None and data.get("draw") == item.path
    if not tanks and not pressed:
        return None
    form = DrawForm(tanks, data if pressed else None, prefix_of(item.path))
    if pressed and form.is_valid():
        form = DrawForm(tanks, None, prefix_of(item.path))
    form.kept = [_kept(tank, setting) for tank in setting["tanks"]()]
    return form


@dataclass(frozen=True)
class LeftOver:
    """One that may become a mix of its own: its words, and what a device needs to make that mix by itself."""

    key: str
    words: str
    told: Mapping[str, Any]


def left_overs_of(setting: Setting, language: str) -> list[LeftOver]:
    return [_left_over(tank, setting, language) for tank in setting["tanks"]() if tank.is_left_over]


def _left_over(tank: FilledTank, setting: Setting, language: str) -> LeftOver:
    mix, words = _mix_of(tank, setting), words_for(tank, setting, language)
    facts = list(facts_of_mix(mix, language))
    return LeftOver(tank.key, words, {"part": mix, "facts": facts, "as": shown_as(mix), "key": tank.key})


def prefix_of(mix_path: str) -> str:
    return f"draw-{slug_of(mix_path)}"


def draw(posted: Posted, item: Item, setting: Setting) -> list[Edit]:
    """The edits that make the mix one that was drawn; none where the form has a fault."""
    tanks = {tank.key: tank for tank in setting["tanks"]()}
    form = DrawForm([(key, "") for key in tanks], posted.data, prefix_of(item.path))
    if not form.is_valid():
        return []
    tank, amount = tanks[form.cleaned_data["tank"]], form.cleaned_data["amount"]
    return [posted.edit(path, value) for path, value in values_of(tank, amount, item, setting)]


def values_of(tank: FilledTank, amount: Quantity, item: Item, setting: Setting) -> Iterator[tuple[str, Any]]:
    """By path, what the mix then holds; what is taken out is what is there."""
    values = drawn(tank, amount, item.path, item.value, _names(setting, "equipment"))
    yield from (each for each in values.items() if each[1] or value_at(setting["document"], each[0]))


def use_left_over(posted: Posted, key: str, setting: Setting) -> list[Edit]:
    """The edit that makes what is left in the tank a mix of its own."""
    mix = mix_of_left_over(key, setting)
    return [posted.edit(f"mixes[{mix['id']}]", mix)] if mix else []


def mix_of_left_over(key: str, setting: Setting) -> dict[str, Any] | None:
    """None where there is no such left-over now."""
    tank = next((tank for tank in setting["tanks"]() if tank.key == key and tank.is_left_over), None)
    return tank and _mix_of(tank, setting)


def _mix_of(tank: FilledTank, setting: Setting) -> dict[str, Any]:
    record = str(setting["treatment"].pk)
    return as_mix(tank, record, _names(setting, "surfaces"), _names(setting, "equipment"))


def _kept(tank: FilledTank, setting: Setting) -> dict[str, Any]:
    """What drawing from the tank takes, with the rig where the treatment has it, too."""
    mix = {name: tank.mix[name] for name in TAKEN if tank.mix.get(name)}
    mix |= {"equipment": tank.rig} if tank.rig in _names(setting, "equipment") else {}
    amounts = {"whole": tank.whole.as_json(), "left": tank.left.as_json()}
    return {"key": tank.key, **amounts, "mix": mix, "load": dict(tank.load)}


def _names(setting: Setting, member: str) -> list[str]:
    return [each["name"] for each in setting["document"].get(member) or [] if each.get("name")]


def _when(tank: FilledTank, setting: Setting) -> str:
    age = (setting["treatment"].day - tank.day).days
    if not age:
        treatment = setting["treatment"]
        zone = read_zone(treatment.site.time_zone or treatment.firm.time_zone)
        return _("today at %(time)s") % {"time": f"{read_time(tank.at).astimezone(zone):%H:%M}"}
    said = ngettext("%(n)s day ago", "%(n)s days ago", age) % {"n": age}
    return _("%(ago)s, on %(day)s") % {"ago": said, "day": formats.date_format(tank.day, "DATE_FORMAT")}
