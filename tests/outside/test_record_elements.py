"""What each law asks of an application record, element by element, held against the packs.

The tables in fixtures/record_elements were made by hand, one for each place, from the law that their rows
cite: `element` in the law's sense; the `rule` that asks for it (of topic `record`, unless another is named);
the `member`s of a treatment document that state it (one or more paths; without all of them the element is
missing); the `condition` under which it is asked (a situation of fixtures/facts, then `with path=value;
path=value`, where `on` is the day of the treatment); the `paragraph`; the `level` (advised where the text binds
somebody else or is good practice); and how it was `read`: found (the law's own words), restated (by somebody
else) or memory.
"""

import csv
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from compliance.pack_examples import Example
from compliance.pack_reader import registered_packs
from compliance.rulebook.finding import Finding
from compliance.rulebook.kinds.record import Record
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import ANYWHERE, Pack

TABLES = Path(__file__).parents[2] / "fixtures" / "record_elements"
PACKS = {pack.id: pack for pack in registered_packs()}


class Row(NamedTuple):
    """One element of one law."""

    place: str
    element: str
    rule: str
    member: str
    condition: str
    paragraph: str
    level: str
    read: str

    @property
    def id(self) -> str:
        return f"{self.place}/{self.rule if '/' in self.rule else f'record/{self.rule}'}"

    def findings(self, *, without_it: bool) -> list[Finding]:
        """What the rule says of the situation, with the members that state the element or without them."""
        situation, _, patches = self.condition.partition(" with ")
        changes = dict(patch.strip().split("=", 1) for patch in patches.split(";") if patch)
        lacking = dict.fromkeys(self.member.split(), "null") if without_it else {}
        day = changes.pop("on", None)
        facts = {"from": situation, **changes, **lacking}
        example = Example(PACKS[self.place], self.element, day, facts, {}, {})
        return [finding for finding in example.check().findings if finding.rule == self.id]


def rows_of(place: str) -> list[Row]:
    with (TABLES / f"{place}.csv").open(encoding="utf-8", newline="") as table:
        return [Row(place, **row) for row in csv.DictReader(table)]


def asks_of(pack: Pack) -> set[tuple[str, str]]:
    """What a pack's rules of kind record ask for, in words, under the id of the rule."""
    duties = [(rule.id, duty.kind) for rule in pack.rules for duty in rule.all_duties]
    return {(rule, ask.words.en) for rule, kind in duties if isinstance(kind, Record) for ask in kind.asks}


PLACES = [pack.id for pack in PACKS.values() if pack.place != ANYWHERE and asks_of(pack)]
ROWS = [row for place in PLACES for row in rows_of(place)]


@cache
def missed(row: Row) -> tuple[Finding, ...]:
    found = row.findings(without_it=True)
    return tuple(finding for finding in found if finding.outcome is Outcome.NOT_MET)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.place} {row.rule}: {row.element}")
def test_each_element_of_the_law_is_asked_for_under_its_paragraph(row: Row) -> None:
    stated = {finding.outcome for finding in row.findings(without_it=False)}
    assert Outcome.MET in stated and Outcome.NOT_MET not in stated
    assert missed(row), f"{row.id} does not miss {row.member}"
    for finding in missed(row):
        assert (finding.cite, finding.text, finding.level) == (row.paragraph, row.read, row.level)
        assert finding.about[0].startswith(row.member.split()[0])


@pytest.mark.parametrize("place", PLACES)
def test_a_pack_asks_for_no_record_element_that_the_table_of_its_law_does_not_list(place: str) -> None:
    listed = {
        (row.id, words.en)
        for row in rows_of(place)
        for finding in missed(row)
        for words in finding.blanks["asked"].parts
    }
    assert asks_of(PACKS[place]) == listed


def test_every_place_whose_law_asks_for_a_record_has_a_table_and_no_table_is_left_over() -> None:
    assert {table.stem for table in TABLES.glob("*.csv")} == set(PLACES)
