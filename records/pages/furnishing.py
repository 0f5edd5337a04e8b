"""What a page of the form shows beside the questions: choices, calculators, and how it was the last time."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from records.forms.bound import ItemList, lists_of
from records.forms.calculator import calculator
from records.forms.choices import choices_of
from records.forms.earlier import before_of, last_rig


def furnish(blocks: Sequence[Any], setting: Mapping[str, Any], data: Any) -> None:
    """Give lists what they are chosen from, mixes their calculator (with what was posted), and items what was
    answered before."""
    earlier = cache(setting["earlier"])
    for each in (each for each in lists_of(blocks) if isinstance(each, ItemList)):
        if each.table.chosen_from:
            each.choices = choices_of(each.table.chosen_from, setting["firm"])
        if each.table.chosen_from == "rigs" and not each.items:
            each.likely = last_rig(earlier())
        for item in each.items:
            if each.table.calculator:
                item.calculator = calculator(item, setting["document"], data)
            if item.asks_as_before:
                item.before = before_of(item, earlier())
