"""Documents as a crew may leave them: the fixtures' treatments with members taken out and readings put in."""

import re
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from hypothesis import strategies as st

from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.words import WORD_LISTS
from shared.times import read_time
from tests.compliance.patched import FIXTURES, load, patched
from tests.compliance.phone import Case

Json = dict[str, Any]

BASES = sorted(path.name for path in (FIXTURES / "facts").glob("*.json") if ".context." not in path.name)
NOT_TYPED = re.compile(r"schema|record(\.id)?|site|site\.jurisdictions(\[\d+\])?")
OF_THE_LABEL = ("name", "registration_number", "kind", "label")
SPEEDS = [
    ("10", "mph"),
    ("16.09344", "km/h"),
    ("16.093440001", "km/hour"),
    ("4.4704", "m/s"),
    ("0", "knot"),
    ("25", "knot"),
]
AMOUNTS = [
    ("3", "gal"),
    ("0.000000001", "gal"),
    ("2", "L"),
    ("40", "oz"),
    ("7", "kg"),
    ("22", "gal"),
    ("0", "qt"),
]
DEGREES = [("-40", "degC"), ("-40", "degF"), ("32.000000001", "degF"), ("0", "degC"), ("99.5", "degF")]


def paths_in(value: Any, before: str = "") -> Iterator[str]:
    """The members that may be left out, whole lists among them."""
    if isinstance(value, dict):
        for name, each in value.items():
            path = f"{before}.{name}" if before else name
            yield path
            yield from paths_in(each, path)
    if isinstance(value, list):
        for place, each in enumerate(value):
            yield from paths_in(each, f"{before}[{place}]")


def is_typed(path: str) -> bool:
    """Whether a crew may leave it out. What a label says is not typed, and chooses the sheet."""
    of_line = path.partition(".products[")[2].partition("].")[2].split(".")[0]
    return not NOT_TYPED.fullmatch(path) and of_line not in OF_THE_LABEL


def quantity(several: list[tuple[str, str]]) -> st.SearchStrategy[Json]:
    return st.sampled_from(several).map(lambda pair: {"value": pair[0], "unit": pair[1]})


@st.composite
def readings(draw: st.DrawFn, start: str) -> Json:
    minutes = draw(st.sampled_from((-31, -30, -29, 0, 10, 500)))
    members = {
        "at": (read_time(start) + timedelta(minutes=minutes)).isoformat(),
        "calm": draw(st.sampled_from((None, True, False))),
        "wind_variable": draw(st.sampled_from((None, True))),
        "wind_from": draw(st.sampled_from((None, {"value": "225", "unit": "degree"}))),
        "wind_speed": draw(st.none() | quantity(SPEEDS)),
        "gust": draw(st.none() | quantity(SPEEDS)),
        "temperature": draw(st.none() | quantity(DEGREES)),
        "source": draw(st.sampled_from((None, "estimate", "anemometer"))),
    }
    left_out = draw(st.sampled_from(("", "", "", "at")))
    return {name: value for name, value in members.items() if value is not None and name != left_out}


@st.composite
def typed_on(draw: st.DrawFn, base: Json) -> Json:
    """The document with some members left out, some lists empty, and some readings."""
    typed = base
    for _ in range(draw(st.integers(0, 3))):
        paths = [path for path in paths_in(typed) if is_typed(path)]
        path = draw(st.sampled_from(paths))
        empties = draw(st.booleans()) and isinstance(_at(typed, path), list)
        typed = patched(typed, {path: [] if empties else None})
    typed = with_amounts(draw, typed)
    start = (base.get("timing") or {}).get("started_at")
    several = draw(st.lists(readings(start), max_size=3)) if start and draw(st.booleans()) else None
    return (
        typed
        if several is None
        else {**typed, "weather": {**(typed.get("weather") or {}), "readings": several}}
    )


def with_amounts(draw: st.DrawFn, document: Json) -> Json:
    """Other amounts of water and products, where there is a mix."""
    for m, mix in enumerate(document.get("mixes") or []):
        for p in range(len(mix.get("products") or [])):
            if draw(st.booleans()):
                regime = draw(st.sampled_from(sorted(WORD_LISTS["regime"])))
                document = patched(document, {f"mixes[{m}].products[{p}].regime": regime})
            if draw(st.booleans()):
                amount = draw(quantity(AMOUNTS))
                document = patched(document, {f"mixes[{m}].products[{p}].amount": amount})
        for s in range(len(mix.get("surfaces") or [])):
            if draw(st.booleans()):
                document = patched(document, {f"mixes[{m}].surfaces[{s}].applied": draw(quantity(AMOUNTS))})
        if draw(st.booleans()):
            document = patched(document, {f"mixes[{m}].applied": draw(quantity(AMOUNTS))})
        if mix.get("diluent") and draw(st.booleans()):
            document = patched(document, {f"mixes[{m}].diluent.amount": draw(quantity(AMOUNTS))})
    return document


@st.composite
def made_cases(draw: st.DrawFn) -> Case:
    name = draw(st.sampled_from(BASES))
    known, context = load(f"facts/{name}"), load(f"facts/{name.replace('.json', '.context.json')}")
    typed = draw(typed_on(known).filter(is_readable))
    return Case(name, known, typed, context, [], [])


def is_readable(document: Json) -> bool:
    try:
        read(document)
    except DocumentFaults:
        return False
    return True


def _at(document: Json, path: str) -> Any:
    value: Any = document
    for part in path.replace("]", "").replace("[", ".").split("."):
        value = value[int(part)] if isinstance(value, list) else value[part]
    return value
