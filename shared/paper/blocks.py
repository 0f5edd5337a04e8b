"""What a paper says, as plain data: sections of blocks, each block one of four shapes."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, is_dataclass
from typing import Any


@dataclass(frozen=True)
class Fact:
    """One labelled value; `beside` is what it is to be compared with, or how it was computed."""

    label: str
    value: str
    beside: str = ""
    span: int = 1


@dataclass(frozen=True)
class Facts:
    """Labelled values on a grid of `columns` equal columns, filled row by row."""

    facts: tuple[Fact, ...]
    columns: int = 4


@dataclass(frozen=True)
class Column:
    """A column's heading, its share of the width, and whether it holds numbers (set to the right)."""

    title: str
    share: int = 1
    numeric: bool = False


@dataclass(frozen=True)
class Row:
    """One line of a table; `sentence` and, smaller, `detail` run below it over the whole width."""

    cells: tuple[str, ...]
    detail: str = ""
    sentence: str = ""


@dataclass(frozen=True)
class Grid:
    """A table with quiet rules."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Note:
    """Running text of any length under an optional label."""

    text: str
    label: str = ""


@dataclass(frozen=True)
class Code:
    """Characters to be compared one by one, such as a digest, set in a fixed width."""

    label: str
    text: str


Block = Facts | Grid | Note | Code


@dataclass(frozen=True)
class Section:
    """A titled part of a paper. `title` stands in the margin; `blocks` to its right."""

    title: str
    blocks: tuple[Block, ...]


def as_json(content: object) -> Any:
    """`content` (data classes, sequences, text, numbers) as JSON data; a block names its shape."""
    if is_dataclass(content) and not isinstance(content, type):
        members = {name: as_json(getattr(content, name)) for name in asdict(content)}
        return {"shape": type(content).__name__, **members} if isinstance(content, Block) else members
    if isinstance(content, Sequence) and not isinstance(content, str):
        return [as_json(item) for item in content]
    return content
