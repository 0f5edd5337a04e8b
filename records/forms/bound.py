"""Questions laid over one document: fields, lists and facts, ready to be shown and to be read back."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from records.forms.controls import Choice, Control, Typed
from records.forms.table import Items, Offer, Ticks, Words


def blank_id(path: str) -> str:
    """The id of the empty item of the list at `path`: another one than that of the item around the list."""
    return f"00000000-0000-4000-8000-{path.count('['):012}"


def slug_of(path: str) -> str:
    """An element id for a path."""
    return re.sub(r"[^a-z0-9]+", "-", path).strip("-")


@dataclass
class Field:
    """One question laid over its member. `path` goes by ids, `place` by indices, as findings name it."""

    path: str
    place: str
    asks: Words
    hint: Words
    control: Control
    value: Any
    typed: Typed
    sentence: str = ""
    offer: Any = None
    offers: Offer | None = None
    offer_follows: Mapping[str, Any] = field(default_factory=dict)
    as_before: bool = False
    on_container: bool = False
    lots: Sequence[tuple[str, str]] = ()
    remarks: list[Any] = field(default_factory=list)
    conflict: Any = None
    kept: Typed | None = None
    kind: str = "field"

    @property
    def slug(self) -> str:
        return slug_of(self.path)

    @property
    def was(self) -> Typed:
        """What the control shows of what is kept; where what was typed is refused, that is something else."""
        return self.typed if self.kept is None else self.kept

    @property
    def offer_text(self) -> str:
        """What is offered, in one text for a hidden input."""
        return " ".join(self.control.shown(self.offer)) if self.offer else ""

    @property
    def is_offered(self) -> bool:
        return bool(self.offer) and self.control.shown(self.offer) != self.control.shown(self.value)

    @property
    def offered(self) -> list[Choice]:
        return self.control.offered(self.typed)


@dataclass
class NoneField(Field):
    """The tick of a list without items, which says that there is none."""

    @property
    def slug(self) -> str:
        return f"{slug_of(self.path)}-none"


@dataclass
class Facts:
    rows: list[tuple[Words, str, Any]]
    kind: str = "facts"


@dataclass
class Item:
    path: str
    place: str
    title: str
    blocks: list[Any]
    removable: bool
    value: dict[str, Any] = field(default_factory=dict)
    calculator: Any = None
    drawing: Any = None
    before: Any = None

    @property
    def open(self) -> bool:
        return is_spoken_of(self.blocks)

    @property
    def asks_as_before(self) -> list[Field]:
        """The item's own questions that nobody has answered yet and that may be answered as the last time."""
        own = [block for block in self.blocks if block.kind == "field"]
        return [field for field in own if field.as_before and field.value is None]

    @property
    def slug(self) -> str:
        return slug_of(self.path)


@dataclass
class ItemList:
    """`pattern` is an empty item under `blank`, of which a device makes one; `opened` one that stands open and
    is begun by what is entered into it; `likely` is chosen at first."""

    table: Items
    path: str
    place: str
    items: list[Item]
    left_out: bool
    none: NoneField | None = None
    pattern: Item | None = None
    opened: Item | None = None
    choices: list[tuple[str, str]] = field(default_factory=list)
    likely: str = ""
    left_overs: Sequence[Any] = ()
    remarks: list[Any] = field(default_factory=list)
    kind: str = "items"

    @property
    def blank(self) -> str:
        return blank_id(self.path)

    @property
    def slug(self) -> str:
        return slug_of(self.path)


@dataclass
class TickList:
    """Ticks over a closed list, the `others` folded away; then the items that are there, with their details."""

    table: Ticks
    path: str
    place: str
    groups: list[tuple[Words, list[tuple[str, str]]]]
    others: list[tuple[Words, list[tuple[str, str]]]]
    ticked: tuple[str, ...]
    items: list[Item]
    begun: dict[str, str]
    left_out: bool
    none: NoneField | None = None
    remarks: list[Any] = field(default_factory=list)
    kind: str = "ticks"

    @property
    def slug(self) -> str:
        return slug_of(self.path)


@dataclass
class Fold:
    """Blocks that are folded away, until something is said in them."""

    title: Words
    blocks: list[Any]
    kind: str = "folded"

    @property
    def open(self) -> bool:
        return is_spoken_of(self.blocks)


def is_spoken_of(blocks: Sequence[Any]) -> bool:
    """Whether something is said beside one of the fields."""
    return any(field.sentence or field.conflict or field.remarks for field in fields_of(blocks))


def fields_of(blocks: Sequence[Any]) -> Iterator[Field]:
    """Every field in bound blocks, in their order."""
    for block in blocks:
        if block.kind == "field":
            yield block
        elif block.kind == "folded":
            yield from fields_of(block.blocks)
        elif block.kind in ("items", "ticks"):
            if block.none:
                yield block.none
            for item in block.items:
                yield from fields_of(item.blocks)


def lists_of(blocks: Sequence[Any]) -> Iterator[ItemList | TickList]:
    """Every list in bound blocks, outer before inner."""
    for block in blocks:
        if block.kind == "folded":
            yield from lists_of(block.blocks)
        elif block.kind in ("items", "ticks"):
            yield block
            for item in block.items:
                yield from lists_of(item.blocks)
