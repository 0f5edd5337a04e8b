"""Which facts there are: every member of the document and the context, and what is derived from them."""

from collections.abc import Mapping

from compliance.facts_reader.judged import FIGURES, MEASURES
from compliance.facts_reader.tree import LEFT_OUT
from compliance.rulebook.vocabulary import Sort, Term, Vocabulary
from records.document.context import Context
from records.document.kind import Kind
from records.document.kinds import Word
from records.document.measured import Measured
from records.document.member_labels import member_label
from records.document.members import Member, members_of
from records.document.types import Part, TreatmentDocument
from records.document.words import WORD_LISTS
from shared.public_holidays import CALENDARS
from shared.wording import Wording

_SORTS: Mapping[str, Sort] = {
    "quantity": "quantity",
    "word": "word",
    "time": "time",
    "day": "day",
    "number": "number",
    "whole": "number",
    "flag": "yes_no",
}


def _term_of_part(part: type[Part], path: str, root: type[Part]) -> Term:
    """The object at a path within the root, with all its members but those that no rule reads."""
    members = {
        name: _term(member, f"{path}.{name}" if path else name, root)
        for name, member in members_of(part).items()
        if name not in LEFT_OUT and (member.kind is None or member.kind.name != "bound")
    }
    return Term("group", members=members, label=_label(path, root) if path else None)


def _term(member: Member, path: str, root: type[Part]) -> Term:
    if member.item:
        return Term("list", item=_term(member.item, f"{path}[]", root), label=_label(path, root))
    if member.part:
        return _term_of_part(member.part, path, root)
    return _term_of_value(member.kind, _label(path, root))


def _label(path: str, root: type[Part]) -> Wording:
    return Wording(member_label(path, "en", root), member_label(path, "es", root))


def _term_of_value(kind: Kind | None, label: Wording | None) -> Term:
    if isinstance(kind, Measured):
        return Term("quantity", dimensions=kind.dimensions, label=label)
    if isinstance(kind, Word):
        return Term("word", words=WORD_LISTS[kind.word_list], label=label)
    return Term(_SORTS.get(kind.name, "text") if kind else "text", label=label)


_DOCUMENT = _term_of_part(TreatmentDocument, "", TreatmentDocument).members
_CONTEXT = _term_of_part(Context, "", Context)
_STAGES = {
    "planned": Wording("planned", "planificado"),
    "started": Wording("started", "empezado"),
    "finished": Wording("finished", "terminado"),
}


def _item(term: Term) -> Term:
    return term.item or term


def _with(term: Term, **derived: Term) -> Term:
    return Term("group", members={**term.members, **derived}, label=term.label)


def _quantity(*dimensions: str) -> Term:
    return Term("quantity", dimensions=dimensions)


_PER_AREA = ("volume_per_area", "mass_per_area")
_PEOPLE, _SURFACES = _DOCUMENT["people"], _DOCUMENT["surfaces"]
_READINGS = _DOCUMENT["weather"].members["readings"]
_PRODUCT = _with(
    _item(_item(_DOCUMENT["mixes"]).members["products"]),
    applied=_quantity("volume", "mass"),
    rate=_quantity(*_PER_AREA),
    strength=_quantity("share", "mass_per_volume"),
)
_MIX = _with(
    _item(_DOCUMENT["mixes"]),
    products=Term("list", item=_PRODUCT),
    area=_quantity("area"),
    coverage=_quantity(*_PER_AREA),
    mixed=_quantity("volume", "mass"),
    treated=_SURFACES,
)
_TREATMENT = Term(
    "group",
    members={
        "day": Term("day", label=Wording("day of treatment", "día del tratamiento")),
        "applied": Term("yes_no"),
        "restricted_use": Term("yes_no"),
        "stage": Term("word", words=_STAGES),
        "readings": _READINGS,
        "readings_between": _READINGS,
        "applicators": _PEOPLE,
        "mixers": _PEOPLE,
        "helpers": _PEOPLE,
        "water_features": _DOCUMENT["site"].members["features"],
        "total_area": _quantity("area"),
    },
)

VOCABULARY = Vocabulary(
    document=Term("group", members={**_DOCUMENT, "treatment": _TREATMENT, "context": _CONTEXT}),
    subjects={
        "document": {},
        "products": {"product": _PRODUCT, "mix": _MIX},
        "mixes": {"mix": _MIX},
        "people": {"person": _item(_PEOPLE)},
        "surfaces": {"surface": _item(_SURFACES)},
    },
    measures={measure.name: measure for measure in MEASURES},
    figures={figures.name: figures for figures in FIGURES},
    calendars={name: calendar.label for name, calendar in CALENDARS.items()},
)
