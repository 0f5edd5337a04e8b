"""One more layer (a law, a label, a firm's own rules) never loosens a limit in force."""

import json
from collections.abc import Sequence
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.label_pack import label_packs
from compliance.pack_reader import registered_packs
from compliance.rulebook.bounds import order
from compliance.rulebook.evaluate import judge
from compliance.rulebook.limits import limits_in_force, strictest_of
from compliance.rulebook.pack import Pack
from compliance.rulebook.sizes import Size
from records.document.context import read_context
from records.document.reader import read
from shared.quantities import units_of
from tests.compliance.rulebook.builders import pack, rule
from tests.compliance.rulebook.situations import FEW, MANY, Situation, named

Limits = dict[tuple[str, str, str], Size]
COUNTS = ("applications_per_year",)
MEASURES = ("wind_speed", "temperature", "coverage", "dilution", "product_rate", "buffer", *COUNTS)


@st.composite
def own_rules(draw: st.DrawFn) -> dict[str, Any]:
    """A limit that somebody might set: on any quantity, at any level, in any unit."""
    measure = VOCABULARY.measures[draw(st.sampled_from(MEASURES))]
    units = [unit for dimension in measure.dimensions for unit in units_of(dimension)]
    unit = "" if measure.name in COUNTS else f" {draw(st.sampled_from(units))}"
    sides = draw(st.sampled_from([("min",), ("max",), ("min", "max")]))
    numbers = sorted(draw(st.lists(st.integers(1, 60), min_size=len(sides), max_size=len(sides))))
    return rule(
        id=f"xx/{measure.name.replace('_', '-')}",
        kind="limit",
        judges=draw(st.sampled_from(measure.judged_on)),
        level=draw(st.sampled_from(["required", "advised"])),
        quantity=measure.name,
        **{side: f"{number}{unit}" for side, number in zip(sides, numbers, strict=True)},
    )


REGISTERED = {one.id: one for one in registered_packs()}
OWN = st.tuples(own_rules(), st.sampled_from(["law", "firm"]))
LAYERS = st.lists(st.sampled_from(sorted(REGISTERED)) | OWN, min_size=1, max_size=5)
"""Registered packs by their id, and packs of one own rule."""

Layer = str | tuple[dict[str, Any], str]


def pack_of(layer: Layer) -> Pack:
    return REGISTERED[layer] if isinstance(layer, str) else pack(layer[0], layer=layer[1])


@cache
def of_several_products() -> tuple[Situation, ...]:
    """The situations, and each with a second product that states no label."""
    found = list(named())
    for situation in named():
        parts = situation.parts
        for mix in parts["document"].get("mixes") or []:
            mix["products"].append({"name": "Sample Sticker", "kind": "adjuvant"})
        found.append(Situation(f"{situation.says}, and a sticker", json.dumps(parts)))
    return tuple(found)


def in_force(parts: dict[str, Any], packs: Sequence[Pack]) -> Limits:
    """The strictest bound on each side of each quantity, for the treatment as a whole and each product."""
    document, context = read(parts["document"]), read_context(parts["context"])
    judged = judge(packs, read_facts(document, context), VOCABULARY)
    limits = limits_in_force(strictest_of(judged))
    products = [
        f"mixes[{m}].products[{p}]"
        for m, mix in enumerate(document.mixes or [])
        for p in range(len(mix.products or []))
    ]
    found: Limits = {}
    for limit in limits:
        for side, size in (("min", limit.min), ("max", limit.max)):
            for subject in [limit.subject] if limit.subject else products or [""]:
                key = (subject, f"{limit.quantity}, {dimension_of(size)}", side)
                if size is not None and (key not in found or not looser(size, found[key], side)):
                    found[key] = size
    return found


def dimension_of(size: Size | None) -> str:
    return "count" if size is None or isinstance(size, int) else size.dimension


def looser(size: Size, than: Size, side: str) -> bool:
    return order(size, than) > 0 if side == "max" else order(size, than) < 0


def add(situation: Situation, layers: list[Layer], place: int) -> None:
    parts = situation.parts
    several = [*label_packs(read(parts["document"])), *(pack_of(layer) for layer in layers)]
    one = several[place % len(several)]
    before = in_force(parts, [each for each in several if each is not one])
    after = in_force(parts, several)
    for key, size in before.items():
        assert key in after and not looser(after[key], size, key[2]), (key, size, after.get(key))


ADDED = (st.sampled_from(of_several_products()), LAYERS, st.integers(0, 99))


@FEW
@given(*ADDED)
def test_one_more_layer_loosens_nothing(situation: Situation, layers: list[Layer], place: int) -> None:
    add(situation, layers, place)


@pytest.mark.long
@MANY
@given(*ADDED)
def test_one_more_layer_loosens_nothing_in_many_ways(
    situation: Situation, layers: list[Layer], place: int
) -> None:
    add(situation, layers, place)
