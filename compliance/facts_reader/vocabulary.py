"""Which facts there are: every member of the document and the context, and what is derived from them."""

from collections.abc import Mapping

from compliance.facts_reader.tree import LEFT_OUT
from compliance.rulebook.vocabulary import Measure, Sort, Term, Vocabulary
from records.document.context import Context
from records.document.kind import Kind
from records.document.kinds import Word
from records.document.measured import Measured
from records.document.member_labels import member_label
from records.document.members import Member, members_of
from records.document.types import Part, TreatmentDocument
from records.document.words import LIMIT_DIMENSIONS, WORD_LISTS
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

_STOP = Wording("Stop, wait and measure again.", "Pare, espere y mida de nuevo.")
_LESS = Wording(
    "Check the amounts; if they are right, say why on the record.",
    "Compruebe las cantidades; si son correctas, explique el motivo en el registro.",
)
_WAIT = Wording("Choose a later time.", "Elija un momento posterior.")
_ANYTHING = ("document", "products", "people", "mixes", "surfaces")


_DIMENSIONS = {**LIMIT_DIMENSIONS, "site_per_year": ("volume", "mass")}


def _measure(name: str, en: str, es: str, mend: Wording, judged_on: tuple[str, ...] = _ANYTHING) -> Measure:
    return Measure(name, _DIMENSIONS.get(name, ()), judged_on, Wording(en, es), mend)


_ALL_MEASURES = (
    _measure("wind_speed", "Wind", "Viento", _STOP),
    _measure("gust", "Gust of wind", "Ráfaga de viento", _STOP),
    _measure("temperature", "Temperature", "Temperatura", _STOP),
    _measure("coverage", "Finished mix per area", "Mezcla por superficie", _LESS, ("products", "mixes")),
    _measure("dilution", "Strength of the mix", "Concentración de la mezcla", _LESS, ("products",)),
    _measure("product_rate", "Product per area", "Producto por superficie", _LESS, ("products",)),
    _measure(
        "hours_dry_after", "Dry time forecast after the end", "Tiempo seco previsto tras el final", _WAIT
    ),
    _measure("reentry", "Time until re-entry", "Tiempo hasta la reentrada", _WAIT),
    _measure(
        "days_between",
        "Time since the last treatment",
        "Tiempo desde el último tratamiento",
        _WAIT,
        ("products",),
    ),
    _measure(
        "applications_per_year", "Treatments this year", "Tratamientos de este año", _WAIT, ("products",)
    ),
    _measure(
        "per_year", "Product per area this year", "Producto por superficie este año", _LESS, ("products",)
    ),
    _measure(
        "site_per_year",
        "Product on the site this year",
        "Producto en el lugar este año",
        _LESS,
        ("products",),
    ),
    _measure(
        "site_applications_per_year",
        "Treatments of the site this year",
        "Tratamientos del lugar de este año",
        _WAIT,
        ("products",),
    ),
    _measure(
        "buffer",
        "Distance to water",
        "Distancia al agua",
        Wording("Keep a greater distance.", "Guarde más distancia."),
    ),
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
    measures={measure.name: measure for measure in _ALL_MEASURES},
    calendars={name: calendar.label for name, calendar in CALENDARS.items()},
)
