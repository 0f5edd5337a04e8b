"""How a control is read where there is no connection: told to the script that reads it there.

`records/static/records/reading.js` reads what was typed as the controls do; the table of cases in
`fixtures/vectors/typed.json` holds both to each other.
"""

from typing import Any

from records.document.kinds import Measured
from records.document.members import member_at
from records.document.paths import pattern_of
from records.forms.bound import Field, NoneField, TickList
from records.forms.compass import Compass
from records.forms.controls import Amounts, Control, LongText, Measure, NoneOfThem, Number, SomeOf, YesNo
from records.forms.moment import Moment

_READS: dict[type[Control], str] = {
    LongText: "lines",
    Number: "number",
    Measure: "quantity",
    YesNo: "flag",
    SomeOf: "words",
    NoneOfThem: "none",
    Compass: "degrees",
    Moment: "moment",
    Amounts: "amounts",
}


def told_of(field: Field) -> dict[str, Any]:
    """The field's member and how it is read: as text, where nothing else is said."""
    control = field.control
    told: dict[str, Any] = {"path": field.path, "reads": _READS.get(type(control), "text")}
    if isinstance(field, NoneField):
        return told
    if isinstance(control, Moment):
        return told | {"zone": control.zone, "day": control.day}
    if isinstance(control, Measure):
        return told | _bounds(control.dimensions, pattern_of(field.path))
    if isinstance(control, Amounts):
        keys = [key for key, _label in control.keys]
        amount = f"{pattern_of(field.path)}[].{control.amount}"
        bounds = _bounds(control.measure.dimensions, amount)
        return told | bounds | {"key": control.key, "amount": control.amount, "keys": keys}
    return told


def told_of_ticks(ticks: TickList) -> dict[str, Any]:
    """The list that is ticked, the member that a tick stands for, and what a new item starts with."""
    begun = {"by": ticks.begun["by"]} if "by" in ticks.begun else {}
    return {"path": ticks.path, "reads": "ticks", "key": ticks.table.key, "begun": begun}


def _bounds(dimensions: tuple[str, ...], pattern: str) -> dict[str, bool]:
    kind = member_at(pattern).kind
    above_zero = dimensions == ("area",) or (isinstance(kind, Measured) and kind.above_zero)
    return {"belowZero": dimensions == ("temperature",), "aboveZero": above_zero}
