"""Entries of a draft that could not be read: which they are, and where on the form they are mended."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from records.document.member_labels import member_label
from records.document.paths import pattern_of
from records.forms.binder import Binder
from records.forms.bound import Field, slug_of
from records.forms.sections import SECTIONS
from records.forms.table import Section
from records.pages.remarks import section_at


@dataclass(frozen=True)
class UnreadEntry:
    """One entry as typed, what it answers, and what is wrong with it; `anchor` is its element on the form."""

    section: Section | None
    asks: str
    typed: str
    sentence: str
    anchor: str


def unread_entries(binder: Binder) -> list[UnreadEntry]:
    """Every unread entry of the document under the binder, in the order of the form, each once."""
    found: dict[str, UnreadEntry] = {}
    for section in SECTIONS:
        for asks, field in _named_fields(binder.section(section)):
            if field.sentence:
                typed = " ".join(field.typed)
                entry = UnreadEntry(section, asks, typed, field.sentence, f"i-{field.slug}")
                found.setdefault(field.path, entry)
    for path, kept in binder.unread.items():
        found.setdefault(path, _not_asked(path, kept, binder.language))
    return list(found.values())


def _named_fields(blocks: Sequence[Any], within: str = "") -> Iterator[tuple[str, Field]]:
    """Each field with its question, and the item that it is asked of: `Reading 1: Wind speed`."""
    for block in blocks:
        if block.kind == "field":
            yield f"{within}{block.asks}", block
        elif block.kind == "folded":
            yield from _named_fields(block.blocks, within)
        elif block.kind in ("items", "ticks"):
            for item in block.items:
                yield from _named_fields(item.blocks, f"{within}{item.title}: ")


def _not_asked(path: str, kept: Any, language: str) -> UnreadEntry:
    """An entry that no question of the form shows: it was sent otherwise, or is a whole item."""
    label = member_label(pattern_of(path), language)
    return UnreadEntry(section_at(path), label, str(kept["value"]), kept["fault"][language], slug_of(path))
