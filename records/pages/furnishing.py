"""What a page of the form shows beside the questions: choices, calculators, and how it was the last time."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any
from uuid import UUID

from django.utils.translation import get_language

from records.forms.bound import Item, ItemList, fields_of, lists_of
from records.forms.calculator import calculator
from records.forms.choices import choices_of
from records.forms.draw import drawing_of, left_overs_of
from records.forms.earlier import before_of, last_rig
from records.stock import lots_of


def furnish(blocks: Sequence[Any], setting: Mapping[str, Any], data: Any) -> None:
    """Give lists what they are chosen from, mixes their calculator (with what was posted), and items what was
    answered before."""
    earlier = cache(setting["earlier"])
    language = (get_language() or "en")[:2]
    for each in _lists_in(blocks):
        if each.table.chosen_from:
            each.choices = choices_of(each.table.chosen_from, setting["firm"])
        if each.table.chosen_from == "rigs" and not each.items:
            each.likely = last_rig(earlier())
        if each.table.calculator:
            each.left_overs = left_overs_of(setting, language)
            if each.pattern:
                each.pattern.drawing = drawing_of(each.pattern, setting, language, None)
        for item in each.items:
            if each.table.calculator:
                item.calculator = calculator(item, setting["document"], data)
                item.drawing = drawing_of(item, setting, language, data)
            if item.asks_as_before:
                item.before = before_of(item, earlier())
            if each.table.chosen_from == "labels":
                _offer_lots(item, setting, language)


def _lists_in(blocks: Sequence[Any]) -> Iterator[ItemList]:
    """Every list, those within a new item among them."""
    for each in (each for each in lists_of(blocks) if isinstance(each, ItemList)):
        yield each
        if each.pattern:
            yield from _lists_in(each.pattern.blocks)


def _offer_lots(item: Item, setting: Mapping[str, Any], language: str) -> None:
    """The lots on hand of the product that the item is written from."""
    try:
        product = UUID(str(item.value.get("id")))
    except ValueError:
        return
    lots = list(lots_of(setting["firm"], product, setting["treatment"], language))
    for field in (field for field in fields_of(item.blocks) if field.on_container):
        field.lots = [(number, left) for number, left in lots if number != field.value]
