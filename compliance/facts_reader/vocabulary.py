"""Which facts there are: every member of the document and the context, and what is derived from them."""

from collections.abc import Mapping
from dataclasses import replace

from compliance.facts_reader.judged import FIGURES, MEASURES
from compliance.facts_reader.mending import what_to_do
from compliance.facts_reader.tree import LEFT_OUT
from compliance.facts_reader.unread import label_of, unread
from compliance.rulebook.vocabulary import Sort, Term, Vocabulary
from records.document.context import Context
from records.document.kind import Kind
from records.document.kinds import Word
from records.document.measured import Measured
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
    return Term("group", members=members, label=label_of(path, root) if path else None)


def _term(member: Member, path: str, root: type[Part]) -> Term:
    if member.item:
        return Term("list", item=_term(member.item, f"{path}[]", root), label=label_of(path, root))
    if member.part:
        return _term_of_part(member.part, path, root)
    return _term_of_value(member.kind, label_of(path, root))


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


def _with(term: Term, label: Wording, **derived: Term) -> Term:
    return Term("group", members={**term.members, **derived}, label=label)


def _named(term: Term, en: str, es: str) -> Term:
    """The same fact under a name of its own."""
    return replace(term, label=Wording(en, es))


def _quantity(en: str, es: str, *dimensions: str) -> Term:
    return Term("quantity", dimensions=dimensions, label=Wording(en, es))


def _yes_no(en: str, es: str) -> Term:
    return Term("yes_no", label=Wording(en, es))


_PER_AREA = ("volume_per_area", "mass_per_area")
_PEOPLE = _DOCUMENT["people"]
_SURFACE = _with(
    _item(_DOCUMENT["surfaces"]),
    Wording("Surface", "Superficie"),
    only_exempt=_yes_no("Only exempt products went on it", "Solo recibió productos exentos"),
    only_granules=_yes_no("Only granules by hand went on it", "Solo recibió gránulos a mano"),
)
_SURFACES = replace(_DOCUMENT["surfaces"], item=_SURFACE)
_READINGS = _DOCUMENT["weather"].members["readings"]
_INCIDENT = _with(
    _item(_DOCUMENT["incidents"]),
    Wording("Incident", "Incidente"),
    report_said=_yes_no("The entry says whether it was reported", "La entrada dice si se notificó"),
)
_LINES = _item(_DOCUMENT["mixes"]).members["products"]
_PRODUCT = _with(
    _item(_LINES),
    Wording("Product", "Producto"),
    applied=_quantity("Product applied", "Producto aplicado", "volume", "mass"),
    rate=_quantity("Product per area", "Producto por superficie", *_PER_AREA),
    strength=_quantity("Strength of the mix", "Concentración de la mezcla", "share", "mass_per_volume"),
    exempt_with_number=_yes_no("Exempt, with a federal number", "Exento, con un número federal"),
    federal_number=_yes_no("Number of the federal form", "Número de la forma federal"),
)
_PERSON = _with(
    _item(_PEOPLE),
    Wording("Person", "Persona"),
    supervises=_yes_no("Supervised someone who sprayed", "Supervisó a alguien que roció"),
    led=_named(_PEOPLE, "People who sprayed under them", "Personas que rociaron bajo su supervisión"),
    sprayed_restricted=_yes_no("Sprayed a restricted-use product", "Roció un producto de uso restringido"),
    mixed_restricted=_yes_no("Mixed a restricted-use product", "Mezcló un producto de uso restringido"),
)
_MIX = _with(
    _item(_DOCUMENT["mixes"]),
    Wording("Mix", "Mezcla"),
    products=Term("list", item=_PRODUCT, label=Wording("Products", "Productos")),
    area=_quantity("Area treated", "Superficie tratada", "area"),
    coverage=_quantity("Finished mix per area", "Mezcla por superficie", *_PER_AREA),
    mixed=_quantity("Mix made", "Mezcla preparada", "volume", "mass"),
    treated=_SURFACES,
)
_TRACES = Wording("Amounts or people of work that was done", "Cantidades o personas de un trabajo hecho")
_TREATMENT = Term(
    "group",
    members={
        "day": Term("day", label=Wording("day of treatment", "día del tratamiento")),
        "county": Term("text", label=Wording("County of the site", "Condado del sitio")),
        "applied": _yes_no("Something was applied", "Se aplicó algo"),
        "restricted_use": _yes_no("Some product is restricted-use", "Algún producto es de uso restringido"),
        "products": _named(_LINES, "Products applied", "Productos aplicados"),
        "stage": Term("word", words=_STAGES, label=Wording("How far the work is", "Estado del trabajo")),
        "readings": _READINGS,
        "readings_between": _named(
            _READINGS, "Weather readings from start to finish", "Lecturas del tiempo de inicio a fin"
        ),
        "readings_at_start": _named(_READINGS, "Readings at the start", "Lecturas al inicio"),
        "applicators": _named(_PEOPLE, "People who sprayed", "Personas que rociaron"),
        "mixers": _named(_PEOPLE, "People who mixed", "Personas que mezclaron"),
        "helpers": _named(_PEOPLE, "Helpers", "Ayudantes"),
        "water_features": _named(
            _DOCUMENT["site"].members["features"], "Waters and wells at the site", "Aguas y pozos del sitio"
        ),
        "incidents": replace(_named(_DOCUMENT["incidents"], "Incidents", "Incidentes"), item=_INCIDENT),
        "traces_of_work": Term("list", item=Term("yes_no"), label=_TRACES),
        "zip_code": _yes_no("Zip code of five digits", "Código postal de cinco dígitos"),
        "recorded_early": _yes_no("Recorded before the finish", "Registrado antes del final"),
        "forecast_out_of_time": _yes_no(
            "Forecast issued after the finish or over 24 h before the start",
            "Pronóstico emitido tras el final o más de 24 h antes del inicio",
        ),
        "reentry": Term("time", label=Wording("People stay out until", "No se debe entrar hasta")),
        "over_days": _yes_no("The work went on to another day", "El trabajo pasó a otro día"),
        "zone_elsewhere": _yes_no("A time zone of another place", "Un huso horario de otro lugar"),
        "surfaces": _named(_SURFACES, "Surfaces treated", "Superficies tratadas"),
        "total_area": _quantity("Area treated in all", "Superficie tratada en total", "area"),
        "lawn_area": _quantity("Lawn treated, not exempt", "Césped tratado, no exento", "area"),
        "ground_area": _quantity("Ground treated, not exempt", "Suelo tratado, no exento", "area"),
    },
)

VOCABULARY = Vocabulary(
    document=Term(
        "group",
        members={**_DOCUMENT, "surfaces": _SURFACES, "treatment": _TREATMENT, "context": _CONTEXT},
    ),
    subjects={
        "document": {},
        "products": {"product": _PRODUCT, "mix": _MIX},
        "mixes": {"mix": _MIX},
        "people": {"person": _PERSON},
        "surfaces": {"surface": _SURFACE},
    },
    measures={measure.name: measure for measure in MEASURES},
    figures={figures.name: figures for figures in FIGURES},
    calendars={name: calendar.label for name, calendar in CALENDARS.items()},
    unread=unread,
    what_to_do=what_to_do,
)
