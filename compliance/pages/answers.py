"""The answers of a draft as its signer looks through them: section by section, counted."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from records.forms.binder import Binder
from records.forms.bound import fields_of, lists_of
from records.forms.sections import SECTIONS
from records.forms.table import Section


@dataclass(frozen=True)
class Answered:
    """A section with its answers; `given` and `left_out` count those that stand there and those that don't."""

    section: Section
    blocks: Sequence[Any]
    given: int
    left_out: int


def answered(binder: Binder) -> list[Answered]:
    """All sections in the order of the work."""
    return [_answered(section, binder.section(section)) for section in SECTIONS]


def _answered(section: Section, blocks: Sequence[Any]) -> Answered:
    facts = sum(len(block.rows) for block in blocks if block.kind == "facts")
    given = sum(field.value is not None for field in fields_of(blocks) if field.kind == "field")
    asked = sum(block.kind == "field" and block.value is None for block in blocks)
    lists = sum(each.left_out for each in lists_of(blocks))
    return Answered(section, blocks, facts + given, asked + lists)
