"""The table of coverage as a page of the documentation, in English. Pure."""

from collections.abc import Iterable, Iterator

from compliance.coverage import LABELS, MEANS, Cell, Row, coverage
from compliance.rulebook.pack import Pack
from compliance.rulebook.topics import TOPICS

_HEAD = """# What the rule packs cover

Written by `manage.py write_coverage` from the packs themselves; do not edit it by hand.

A rule pack is help, not legal advice. It holds what could be confirmed; a place may have duties that its
pack does not state, and counties and cities may add their own. **checked**: rules of the pack judge it on
each record. **reminder**: the duty is stated, but no record can show that it was met. **–**: the pack
states nothing of it, which does not say that there is no such duty.
"""


def coverage_text(packs: Iterable[Pack]) -> str:
    """The page, in Markdown."""
    rows = coverage(packs)
    return "\n".join([_HEAD, *_table(rows), *(line for row in rows for line in _place(row))])


def _table(rows: list[Row]) -> Iterator[str]:
    heads = ["Place", "Reviewed", *(LABELS[topic].en for topic in TOPICS)]
    yield _line(heads)
    yield _line(["---"] * len(heads))
    for row in rows:
        yield _line([f"`{row.pack.place}`", str(row.pack.reviewed_on), *map(_word, row.cells)])


def _word(cell: Cell) -> str:
    if cell.checked:
        return "checked"
    return "reminder" if cell.reminded else "–"


def _place(row: Row) -> Iterator[str]:
    pack = row.pack
    means = MEANS[pack.by_means or "memory"].en
    yield f"\n## {pack.title.en}\n"
    yield f"`{pack.id}` {pack.version}. Reviewed on {pack.reviewed_on}, {means}.\n"
    if pack.in_part:
        yield "Only a part of this place's law is stated: the place does not count as covered.\n"
    for cell in row.cells:
        for word, cites in (("checked", cell.checked), ("reminder", cell.reminded)):
            if cites:
                yield f"- {LABELS[cell.topic].en} ({word}): {'; '.join(cites)}"
    if row.lacking:
        yield f"- States nothing of: {', '.join(LABELS[topic].en.lower() for topic in row.lacking)}"
    yield "\nSources:\n"
    yield from (f"- {source.cite}: {source.title}" for source in pack.sources.values())
    if pack.leaves_out:
        yield "\nLeft out:\n"
        yield from (f"- {said.en}" for said in pack.leaves_out)


def _line(cells: list[str]) -> str:
    return f"| {' | '.join(cells)} |"
