"""Worked examples in plain words: the situation, what is changed in it, what comes out."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.pack_examples import Example, wanted
from compliance.rulebook.vocabulary import Term
from shared.wording import Catalogue, Wording

SITUATIONS: Catalogue = {
    "roof-in-september": Wording(
        "A roof in Washington in September", "Un tejado en Washington en septiembre"
    ),
    "drive-by-the-pond": Wording("A drive beside a pond", "Una entrada junto a un estanque"),
    "restricted-use-roof": Wording(
        "A roof and a restricted-use product", "Un tejado y un producto de uso restringido"
    ),
    "stood-down-for-wind": Wording("Stood down for wind", "Suspendido por el viento"),
    "roof-in-britain": Wording("A roof in Great Britain", "Un tejado en Gran Bretaña"),
    "roof-in-british-columbia": Wording("A roof in British Columbia", "Un tejado en Columbia Británica"),
    "roof-in-california": Wording("A roof in California", "Un tejado en California"),
    "roof-in-colorado": Wording("A roof in Colorado", "Un tejado en Colorado"),
    "roof-in-connecticut": Wording("A roof in Connecticut", "Un tejado en Connecticut"),
    "roof-in-florida": Wording("A roof in Florida", "Un tejado en Florida"),
    "roof-in-idaho": Wording("A roof in Idaho", "Un tejado en Idaho"),
    "roof-in-maryland": Wording("A roof in Maryland", "Un tejado en Maryland"),
    "roof-in-massachusetts": Wording("A roof in Massachusetts", "Un tejado en Massachusetts"),
    "roof-in-minnesota": Wording("A roof in Minnesota", "Un tejado en Minnesota"),
    "roof-in-new-jersey": Wording("A roof in New Jersey", "Un tejado en Nueva Jersey"),
    "roof-in-new-south-wales": Wording("A roof in New South Wales", "Un tejado en Nueva Gales del Sur"),
    "roof-in-new-york": Wording("A roof in New York", "Un tejado en Nueva York"),
    "roof-in-oregon": Wording("A roof in Oregon", "Un tejado en Oregón"),
    "roof-in-the-union": Wording("A roof in the European Union", "Un tejado en la Unión Europea"),
    "roof-in-wisconsin": Wording("A roof in Wisconsin", "Un tejado en Wisconsin"),
}
"""The base situations of `fixtures/facts`."""

OUTCOMES: Catalogue = {
    "met": Wording("met", "se cumple"),
    "not_met": Wording("not met", "no se cumple"),
    "cant_tell": Wording("can't tell", "no se puede saber"),
    "not_applicable": Wording("doesn't apply", "no se aplica"),
    "absent": Wording("not in force", "no está en vigor"),
}
_LEFT_OUT = Wording("left out", "omitido")
_EMPTY = Wording("nothing in it", "vacío")
_SAY_YES_OR_NO = ("yes_no", "text")
"""A firm's answer to a question is text, and as a rule yes or no."""
_YES_NO = {"yes": Wording("yes", "sí"), "no": Wording("no", "no")}


@dataclass(frozen=True)
class Change:
    """One member that is changed, and its value."""

    member: str
    value: str


@dataclass(frozen=True)
class ShownExample:
    """An example as a page shows it, for one rule. `says`: its sentence, which is written in English; in
    another language situation and changes say it."""

    says: str
    situation: str
    day: str
    changes: tuple[Change, ...]
    outcome: str
    expects: str


def shown(example: Example, rule: str, language: str) -> ShownExample:
    """The example as far as it is about one rule."""
    situation = str(example.facts["from"])
    expected = wanted(example.expect[rule])["outcome"]
    return ShownExample(
        example.says if language == "en" else "",
        SITUATIONS[situation].say(language) if situation in SITUATIONS else situation,
        example.on or "",
        tuple(_changes(example, language)),
        expected,
        OUTCOMES[expected].say(language),
    )


def _changes(example: Example, language: str) -> Iterator[Change]:
    for path, value in example.facts.items():
        if path != "from":
            yield Change(path_in_words(path, language), value_in_words(path, value, language))
    for path, value in example.context.items():
        path = f"context.{path}"
        yield Change(path_in_words(path, language), value_in_words(path, value, language))


def path_in_words(path: str, language: str) -> str:
    """`weather.readings[0].wind_speed` as `Weather › Weather readings 1 › Wind speed`."""
    return " › ".join(
        said
        for prefix in accumulate(path.split("."), lambda before, name: f"{before}.{name}")
        if (said := _step_in_words(prefix, language))
    )


def _step_in_words(path: str, language: str) -> str:
    """What a person calls the member at a path, counted from 1 in its list; empty without a name."""
    term = term_at(re.sub(r"\[\d+\]$", "", path))
    if term is None or term.label is None:
        return "" if path == "context" else path.split(".")[-1]
    index = re.search(r"\[(\d+)\]$", path)
    label = term.label.say(language)
    return f"{label} {int(index[1]) + 1}" if index else label


def value_in_words(path: str, value: Any, language: str) -> str:
    """A value as typed, in words where its member has a closed list."""
    return _said(term_at(path), value, language)


def _said(term: Term | None, value: Any, language: str) -> str:
    if isinstance(value, Mapping):
        members = term.members if term else {}
        parts = [f"{_name(members.get(key), key, language)}: {_said(members.get(key), part, language)}"
                 for key, part in value.items()]  # fmt: skip
        return ", ".join(parts)
    if isinstance(value, list):
        item = term.item if term else None
        return "; ".join(_said(item, part, language) for part in value) or _EMPTY.say(language)
    text = str(value)
    if text == "null":
        return _LEFT_OUT.say(language)
    sort = term.sort if term else ""
    known = term.words if term and sort == "word" else _YES_NO if sort in _SAY_YES_OR_NO else {}
    return known[text].say(language) if text in known else text


def _name(term: Term | None, key: str, language: str) -> str:
    return term.label.say(language) if term and term.label else key


def term_at(path: str) -> Term | None:
    """The type of the member at a full path; of the item, where the path ends in an index."""
    term: Term | None = VOCABULARY.document
    for part in path.split("."):
        name, *indices = re.findall(r"\w+", part)
        term = term.members.get(name) if term else None
        for _ in indices:
            term = term.item if term else None
    return term
