"""What a screen asks, by patterns; and what a page asked that came from another version of the screens."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from records.document.paths import pattern_of
from records.forms.sections import SECTIONS
from records.forms.table import Block, Folded, FromRows, Items, Question, Section, Spread, Ticks


def patterns(blocks: Sequence[Block], within: str = "") -> Iterator[str]:
    """The pattern of every member that the blocks ask for, lists among them."""
    for block in blocks:
        if isinstance(block, Folded | FromRows):
            yield from patterns(block.blocks, within)
        elif isinstance(block, Question | Spread | Items | Ticks):
            pattern = f"{within}{block.member}"
            yield pattern
            inner = block.blocks if isinstance(block, Items) else getattr(block, "details", ())
            yield from patterns(inner, f"{pattern}[].")


def as_posted(section: Section, paths: Iterable[str]) -> Section:
    """The screen with what else was posted to it: a phone may send a page from before a question moved."""
    strange = {pattern_of(path) for path in paths}.difference(patterns(section.blocks))
    others = (each.blocks for each in SECTIONS if strange.intersection(patterns(each.blocks)))
    return replace(section, blocks=sum(others, section.blocks)) if strange else section
