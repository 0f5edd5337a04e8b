"""Laying the table over a document: each question with its control, value, and what was typed into it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any
from uuid import uuid4

from django.utils.translation import gettext as _

from records.document.kinds import Word
from records.document.members import member_at
from records.document.paths import pattern_of, values_at
from records.document.words import WORD_LISTS
from records.forms import controls
from records.forms.bound import (
    Facts,
    Field,
    Fold,
    Item,
    ItemList,
    NoneField,
    TickList,
    blank_id,
)
from records.forms.chosen_controls import ChosenControls
from records.forms.controls import Control
from records.forms.plain_paths import join, value_at
from records.forms.reasons import reason_buttons
from records.forms.sketch import drawing
from records.forms.table import (
    Block,
    Folded,
    FromRows,
    Items,
    Question,
    Section,
    Shown,
    Sketch,
    Spread,
    StandDownReasons,
    Ticks,
    WindSeen,
    Words,
)
from records.forms.ticked import groups_of, is_of
from records.forms.wind_seen import wind_guide


class Binder:
    """Lays questions over `document` (JSON).

    `unread` holds what was typed and not understood, by path; `begun` what a new tick starts with; in a
    correction the members that else come from the site's row are asked for, too.
    """

    def __init__(
        self,
        document: dict[str, Any],
        unread: Mapping[str, Any],
        language: str,
        correcting: bool = False,
        begun: Mapping[str, str] | None = None,
    ) -> None:
        self.document = document
        self.unread = unread
        self.language = language
        self.correcting = correcting
        self.begun = dict(begun or {})
        timing, site = document.get("timing") or {}, document.get("site") or {}
        day = str(timing.get("started_at") or timing.get("planned_at") or "")[:10]
        self.controls = ChosenControls(document, language, site.get("time_zone") or "UTC", day)

    def section(self, section: Section) -> list[Any]:
        return self.blocks(section.blocks, self.document, "", "")

    def blocks(self, blocks: Sequence[Block], owner: Any, path: str, place: str) -> list[Any]:
        bound = []
        for block in blocks:
            if isinstance(block, FromRows):
                chosen = block.blocks if self.correcting else (block.shown,)
                bound += self.blocks(chosen, owner, path, place)
            else:
                bound.append(self._block(block, owner, path, place))
        return bound

    def _block(self, block: Block, owner: Any, path: str, place: str) -> Any:
        if isinstance(block, Folded):
            return Fold(block.title, self.blocks(block.blocks, owner, path, place))
        if isinstance(block, Shown):
            rows = [(words, member, value_at(owner, member)) for member, words in block.rows]
            return Facts([row for row in rows if row[2] not in (None, "", [], {})])
        if isinstance(block, WindSeen):
            return wind_guide(block.title, path, owner, block.unit)
        if isinstance(block, StandDownReasons):
            return reason_buttons(block.title, self.document, self.language)
        if isinstance(block, Sketch):
            return drawing(block.title, value_at(self.document, "site.features") or [])
        here, there = join(path, block.member), join(place, block.member)
        value = value_at(owner, block.member)
        if isinstance(block, Items):
            return self._list(block, value, here, there)
        if isinstance(block, Ticks):
            return self._ticks(block, value, here, there)
        field = self._field(block, value, here, there)
        if isinstance(block, Question):
            field.as_before, field.on_container = block.as_before, block.on_container
            if block.offers:
                field.offer = block.offers.works_out(self.document, owner)
                field.offers = block.offers
                if block.offers.follows:
                    follows = block.offers.follows(owner)
                    field.offer_follows = {join(path, member): each for member, each in follows.items()}
        return field

    def _list(self, table: Items, value: Any, path: str, place: str) -> ItemList:
        items = list(self._items(table, value, path, place))
        none = self._none(table, value, path, place)
        pattern = self._pattern(table, value, path, blank_id(path))
        opened = self._pattern(table, value, path, str(uuid4())) if table.opens_one and not items else None
        return ItemList(table, path, place, items, value is None, none, pattern, opened)

    def _field(self, question: Question | Spread, value: Any, path: str, place: str) -> Field:
        control = self.controls.of(question, member_at(pattern_of(place)), value)
        left = self.unread.get(path)
        typed = control.shown(value if left is None else left["value"])
        sentence = ""
        if left is not None:
            sentence = control.sentence(typed) or control.spoken(left["fault"][self.language])
        hint = self._hint(question, control)
        return Field(path, place, question.asks, hint, control, value, typed, sentence)

    def _hint(self, question: Question | Spread, control: Control) -> Words:
        """The question's hint, or what the labels in the mix ask for here."""
        if not (
            isinstance(question, Question) and question.label_asks and isinstance(control, controls.OneOf)
        ):
            return question.hint
        asked = [words for _place, words in values_at(self.document, question.label_asks)]
        said = [str(words) for word, words in control.choices if any(word in each for each in asked)]
        return _("The label asks for: %(words)s.") % {"words": ", ".join(said)} if said else question.hint

    def _none(self, table: Items | Ticks, value: Any, path: str, place: str) -> NoneField | None:
        if value or not table.none:
            return None
        control = controls.NoneOfThem(table.none)
        return NoneField(path, place, table.none, "", control, value, control.shown(value))

    def _items(self, table: Items | Ticks, value: Any, path: str, place: str) -> Iterator[Item]:
        blocks = table.blocks if isinstance(table, Items) else table.details
        for index, item in enumerate(value or []):
            if isinstance(table, Ticks) and not is_of(table, item.get(table.key)):
                continue
            here = f"{path}[{item.get('id') or index}]"
            there = f"{place}[{index}]"
            title = self._title(table, item, index)
            removable = isinstance(table, Items) and bool(table.add)
            yield Item(here, there, title, self.blocks(blocks, item, here, there), removable, item)

    def _pattern(self, table: Items, value: Any, path: str, new_id: str) -> Item | None:
        """An empty item, to be made without a connection; None where a device makes none."""
        if not (table.add or table.begun_elsewhere) or not member_at(pattern_of(path)).has_ids:
            return None
        here, index = f"{path}[{new_id}]", len(value or [])
        blocks = self.blocks(table.blocks, {}, here, f"{pattern_of(path)}[{index}]")
        return Item(here, here, self._title(table, {}, index), blocks, removable=bool(table.add))

    def _title(self, table: Items | Ticks, item: Mapping[str, Any], index: int) -> str:
        if isinstance(table, Ticks):
            return self._word(f"{table.member}[].{table.key}", item.get(table.key))
        called = item.get(table.called) if table.called not in ("", "at", "kind") else None
        return str(called) if called else f"{table.one} {index + 1}"

    def _word(self, pattern: str, word: Any) -> str:
        kind = member_at(pattern).kind
        wording = WORD_LISTS[kind.word_list].get(word) if isinstance(kind, Word) else None
        return wording.say(self.language) if wording else str(word or "")

    def _ticks(self, block: Ticks, value: Any, path: str, place: str) -> TickList:
        pattern = f"{block.member}[].{block.key}"
        words = (item.get(block.key) for item in value or [])
        ticked = tuple(word for word in words if is_of(block, word))
        called, others = groups_of(block, self.document, ticked, lambda word: self._word(pattern, word))
        items = list(self._items(block, value, path, place))
        none = self._none(block, value, path, place)
        left_out = value is None or not (items or block.none)
        return TickList(block, path, place, called, others, ticked, items, self.begun, left_out, none)
