"""The check of a finished, general-use treatment at an address in Washington, written out as plain Python.

It starts from the same facts as the engine and gives the same findings, so that the two can be compared. What
never changes is written into it: no dates, no conditions that can be read aloud, no packs, one state of the
law. Being data instead is what the engine costs.
"""

from collections.abc import Mapping

from benchmarks.by_hand import everywhere, federal, label, washington, washington_landscape
from benchmarks.by_hand.reach import Hand
from compliance.rulebook.facts import Facts
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.ordering import in_order


def find(facts: Facts, bases: Mapping[str, Basis]) -> list[Finding]:
    """All findings, in their order. `bases`: titles, citations and the like by rule, as data even here."""
    hand = Hand(facts, bases)
    everywhere.find(hand)
    federal.find(hand)
    washington.find(hand)
    washington_landscape.find(hand)
    label.find(hand)
    return in_order(hand.findings)
