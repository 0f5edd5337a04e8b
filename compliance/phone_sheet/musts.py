"""The members that a record must state, as a phone looks for them. Pure."""

from collections.abc import Iterator, Mapping
from typing import Any

from compliance.facts_reader.mending import what_to_do
from compliance.phone_sheet.conditions import Answers, on_the_phone, refuse_computed
from compliance.phone_sheet.sentences import in_languages, sentence
from compliance.rulebook.asks import Ask
from compliance.rulebook.kinds.record import Record
from compliance.rulebook.standing import Standing
from compliance.rulebook.vocabulary import FactPath, Term

Json = dict[str, Any]

STANDS_FOR = {
    "product": "mixes.products",
    "mix": "mixes",
    "person": "people",
    "surface": "surfaces",
    "treatment.surfaces": "surfaces",
    "treatment.products": "mixes",
    "treatment.readings": "weather.readings",
    "treatment.readings_between": "weather.readings",
    **dict.fromkeys(("treatment.applicators", "treatment.mixers", "treatment.helpers"), "people"),
}
_ITEMS_OF = {**STANDS_FOR, "treatment.products": "mixes.products"}
_NOTHING_THERE = {
    "products": ("mixes", "mixes.products"),
    "mixes": ("mixes",),
    "people": ("people",),
    "surfaces": ("surfaces",),
}


def must_on_the_phone(
    standing: Standing, raw: Mapping[str, Any], roots: Mapping[str, Term], answers: Answers
) -> Json | None:
    """What a required rule asks to be stated, with its sentence; None for another. Raises LeftToServerError."""
    kind, basis = standing.kind, standing.basis
    if not isinstance(kind, Record) or basis.level != "required":
        return None
    asks = [_ask(ask, part, roots, answers) for ask, part in zip(kind.asks, raw["asks"], strict=True)]
    return {"asks": asks, "words": sentence("record/not_met", {"mend": basis.mend} if basis.mend else {})}


def mends_of(standing: Standing) -> dict[str, Json]:
    """What to do about each member that the rule may miss, by its path without indices."""
    kind = standing.kind
    asks = kind.asks if isinstance(kind, Record) else ()
    places = {*_NOTHING_THERE.get(standing.rule.judges, ()), *(place for ask in asks for place in _places(ask))}
    return {place: in_languages(what_to_do(place)) for place in places}


def _ask(ask: Ask, raw: Json, roots: Mapping[str, Term], answers: Answers) -> Json:
    item = ask.over.term.item if ask.over else None
    inner = {**roots, "item": item} if item else roots
    conditions: Json = {
        name: on_the_phone(raw[name], inner, answers) for name in ("unless", "only", "where") if name in raw
    }
    over = {"over": refuse_computed(ask.over.text), "every": ask.every} if ask.over else {}
    paths = [refuse_computed(path.text) for path in ask.paths]
    return {"words": in_languages(ask.words), "paths": paths, "any": ask.any_will_do, **over, **conditions}


def _places(ask: Ask) -> Iterator[str]:
    if ask.over:
        yield _place(ask.over, STANDS_FOR)
    for path in ask.paths:
        if path.names[0] == "item" and ask.over:
            yield ".".join((_place(ask.over, _ITEMS_OF), *path.names[1:]))
        else:
            yield _place(path, STANDS_FOR)


def _place(path: FactPath, stands_for: Mapping[str, str]) -> str:
    for length in (2, 1):
        start = ".".join(path.names[:length])
        if start in stands_for:
            return ".".join((stands_for[start], *path.names[length:]))
    return path.text
