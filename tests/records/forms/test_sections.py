"""The table of the crew's form against the document that it is laid over."""

from collections.abc import Iterator
from typing import Any

import pytest

from records.document.members import member_at
from records.document.words import WORD_LISTS
from records.forms.sections import SECTIONS
from records.forms.table import Folded, FromRows, Items, Question, Shown, Sketch, Spread, Ticks, WindSeen


def asked(blocks: Any, within: str = "") -> Iterator[tuple[str, Any]]:
    """Every block that names a member, with the pattern of the member."""
    for block in blocks:
        if isinstance(block, Sketch | WindSeen):
            continue
        if isinstance(block, Shown):
            yield from ((f"{within}{member}", block) for member, _words in block.rows)
        elif isinstance(block, Folded | FromRows):
            shown = [block.shown] if isinstance(block, FromRows) else []
            yield from asked([*shown, *block.blocks], within)
        else:
            pattern = f"{within}{block.member}"
            yield pattern, block
            if isinstance(block, Items):
                yield from asked(block.blocks, f"{pattern}[].")
            elif isinstance(block, Ticks):
                yield from asked(block.details, f"{pattern}[].")


ASKED = [(pattern, block) for section in SECTIONS for pattern, block in asked(section.blocks)]


@pytest.mark.parametrize(("pattern", "block"), ASKED, ids=[pattern for pattern, _block in ASKED])
def test_every_question_is_about_a_member_of_the_document(pattern, block):
    member = member_at(pattern)
    if isinstance(block, Items | Ticks | Spread):
        assert member.item is not None
    elif isinstance(block, Question):
        assert member.kind is not None or (member.item is not None and member.item.kind is not None)


@pytest.mark.parametrize("block", [block for _pattern, block in ASKED if getattr(block, "unit", "")])
def test_the_unit_offered_first_is_one_of_the_dimension(block):
    kinds = [
        member_at(pattern).kind for pattern, each in ASKED if each is block and not isinstance(each, Spread)
    ]
    for kind in kinds:
        assert kind.parse(f"1 {block.unit}")["unit"] == block.unit


def test_every_protection_step_can_be_ticked_once():
    ticks = [block for section in SECTIONS for block in section.blocks if isinstance(block, Ticks)]
    words = [word for each in ticks for _title, group in each.groups for word in group]
    assert sorted(words) == sorted(WORD_LISTS["step"])


@pytest.mark.parametrize("prefix", [prefix for section in SECTIONS for prefix in section.prefixes])
def test_every_section_answers_for_members_that_exist(prefix):
    assert member_at(prefix)


def test_a_member_is_asked_on_one_screen_only_but_for_readings_that_are_taken_twice():
    where: dict[str, set[str]] = {}
    for section in SECTIONS:
        for pattern, block in asked(section.blocks):
            if isinstance(block, Question | Spread):
                where.setdefault(pattern, set()).add(section.slug)
    twice = {pattern: slugs for pattern, slugs in where.items() if len(slugs) > 1}
    rest = {p: s for p, s in twice.items() if not p.startswith(("weather.readings[]", "protection[]"))}
    assert rest == {}
    assert {frozenset(slugs) for slugs in twice.values()} == {
        frozenset({"weather", "spray"}),
        frozenset({"protect", "after"}),
    }
