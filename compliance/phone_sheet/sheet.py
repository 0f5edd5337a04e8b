"""The sheet of one treatment: what the phone judges by, as plain data. Pure."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.label_clause import AS_STATED
from compliance.label_pack import label_packs
from compliance.phone_sheet.conditions import Answers, LeftToServerError, on_the_phone
from compliance.phone_sheet.limits import limit_on_the_phone
from compliance.phone_sheet.musts import mends_of, must_on_the_phone
from compliance.phone_sheet.sentences import in_languages
from compliance.phone_sheet.units import units_on_the_phone
from compliance.plain_words.rules import raw_rules
from compliance.rulebook.facts import Facts
from compliance.rulebook.pack import Pack
from compliance.rulebook.standing import Standing
from compliance.said_in import cite_in
from records.document.canonical import as_json
from records.document.context import Context
from records.document.types import TreatmentDocument
from shared.timeline import Timeline
from shared.wording import LANGUAGES

Json = dict[str, Any]

SCHEMA = "phone-sheet/1"
_DIMENSIONS = (
    "speed",
    "temperature",
    "length",
    "time",
    "volume",
    "mass",
    "density",
    "share",
    "area",
    "volume_per_area",
    "mass_per_area",
    "volume_per_volume",
    "mass_per_volume",
)
_OF_THE_LABEL = ("name", "registration_number", "kind", "label")


def limits_and_musts(packs: Sequence[Pack], document: TreatmentDocument, context: Context) -> Json:
    """What can be told on a phone of this treatment by these packs (those of a check) and its labels.

    `day`: the sheet holds for a treatment of this day alone. `only`: a label's limit binds the product line at
    that path, while the line states the same product and label as in `products`.
    """
    facts = read_facts(document, context)
    sheet: Json = {"limits": [], "musts": []}
    mends: dict[str, Json] = {}
    for pack in (*packs, *label_packs(document)):
        for standing in pack.timetable.on(facts.day):
            for name, entry in _entries(standing, pack, facts):
                sheet[name].append(entry)
                mends |= mends_of(standing) if name == "musts" else {}
    return {
        "schema": SCHEMA,
        "day": facts.day.isoformat() if facts.day else None,
        **sheet,
        "mends": mends,
        "products": _products(document),
        "units": units_on_the_phone(_DIMENSIONS),
    }


def _entries(standing: Standing, pack: Pack, facts: Facts) -> Iterator[tuple[str, Json]]:
    if standing.rule.dated and facts.day is None:
        return
    raw = raw_rules(pack)[standing.rule.id] if pack.content else (AS_STATED, {})
    questions = {question.id: question.answers for question in pack.questions.values()}
    answers = Answers(facts, standing.rule.judges, questions)
    roots = VOCABULARY.roots(standing.rule.judges)
    try:
        when = [on_the_phone(part["when"], roots, answers) for part in raw if "when" in part]
        limit = limit_on_the_phone(standing)
        must = must_on_the_phone(standing, _in_force(standing, raw[-1]), roots, answers)
    except LeftToServerError:
        return
    for name, own in (("limits", limit), ("musts", must)):
        if own is not None:
            yield name, {**_stated(standing), "when": when, **own}


def _in_force(standing: Standing, raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """The rule's data, with the values of the day laid over it."""
    duties = standing.rule.duties
    if not isinstance(duties, Timeline):
        return raw
    since = next(day for day, duty in duties.entries if duty.kind is standing.kind)
    return {**raw, **raw["values"][since.isoformat()]}


def _stated(standing: Standing) -> Json:
    basis = standing.basis
    return {
        "rule": basis.rule,
        "judges": standing.rule.judges,
        "only": standing.rule.only,
        "level": basis.level,
        "cite": {language: cite_in(basis.cite, language) for language in LANGUAGES},
        "doubt": in_languages(basis.doubt) if basis.doubt else None,
        "names": basis.layer != "label",
    }


def _products(document: TreatmentDocument) -> dict[str, Json]:
    """What each product line states of itself and its label, by its path."""
    return {
        f"mixes[{m}].products[{p}]": {name: line[name] for name in _OF_THE_LABEL if name in line}
        for m, mix in enumerate(as_json(document).get("mixes") or [])
        for p, line in enumerate(mix.get("products") or [])
    }
