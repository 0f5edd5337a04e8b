"""The controls read what was typed as a table says, to which `test_reading_on_a_phone` holds phones, too."""

import json
from typing import Any

import pytest
from django.utils import translation

from records.forms.compass import Compass
from records.forms.controls import Amounts, Control, LongText, Measure, NoneOfThem, Number, SomeOf, YesNo
from records.forms.moment import Moment
from shared import quantities
from shared.quantities import QuantityError
from shared.times import TimeError, read_time
from tests.health.committed import ROOT

CASES = json.loads((ROOT / "fixtures/vectors/typed.json").read_text("utf-8"))


def control_of(case: dict[str, Any]) -> Control:
    told = case["control"]
    measure = Measure(tuple(case.get("dimensions", ())), "gal")
    return {
        "text": Control(),
        "lines": LongText(),
        "number": Number(),
        "quantity": measure,
        "flag": YesNo(),
        "words": SomeOf(()),
        "none": NoneOfThem("None of it"),
        "degrees": Compass(),
        "moment": Moment(told.get("zone", "UTC"), told.get("day", "")),
        "amounts": Amounts(
            told.get("key", ""),
            told.get("amount", ""),
            tuple((key, key) for key in told.get("keys", ())),
            measure,
            tuple(case.get("there", ())),
        ),
    }[told["reads"]]


def read_as_a_record_holds_it(case: dict[str, Any]) -> tuple[Any, bool]:
    """What the control makes of it, and whether a record can hold that."""
    control = control_of(case)
    value = control.read(tuple(case["typed"]))
    if control.sentence(tuple(case["typed"])):
        return value, False
    try:
        if isinstance(control, Moment) and value:
            read_time(value)
        if isinstance(control, Measure) and value:
            quantity = quantities.read(value, control.dimensions)
            return value, bool(quantity.exact) or not case["control"]["aboveZero"]
    except (QuantityError, TimeError):
        return value, False
    return value, True


@pytest.mark.parametrize("case", CASES, ids=[case["says"] for case in CASES])
def test_a_control_reads_what_was_typed_as_phones_do(case):
    with translation.override(case["language"]):
        value, holds = read_as_a_record_holds_it(case)
    assert holds is not case.get("unreadable", False)
    if holds:
        assert value == case["value"]
