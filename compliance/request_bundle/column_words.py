"""What the columns of the tables mean, in English and Spanish."""

from collections.abc import Mapping

from compliance.request_bundle.tables import RECORD, Col, TableOf
from records.document.follow_up import FollowUp
from records.document.member_labels import member_label
from shared.wording import LANGUAGES, Wording

_LICENCE = Wording("number of the licence", "número de la licencia")
_OWN: Mapping[str, Wording] = {
    "=file": Wording("the file of this version in the bundle", "el archivo de esta versión en el paquete"),
    "=state": Wording(
        "whether this version holds, was replaced, or is void",
        "si esta versión vale, fue sustituida o está anulada",
    ),
    "=digest": Wording(
        "digest of the signed record (SHA-256)",
        "huella digital del registro firmado (SHA-256)",
    ),
    "=day": Wording("day of the treatment, at its site", "día del tratamiento, en su sitio"),
    "=mix": Wording(
        "which mix of the treatment it went into, from 1 on",
        "en qué mezcla del tratamiento, desde 1",
    ),
    "=applied": Wording(
        "product applied: its amount x mix applied / mix made; empty where a part of that is missing",
        "producto aplicado: su cantidad x mezcla aplicada / mezcla hecha; vacío si falta una parte",
    ),
    "=label_file": Wording("what the label says, as recorded", "lo que dice la etiqueta, tal como se anotó"),
    "=label_in_force": Wording(
        "whether that version of the label was in force on the day, by the days that the record states; empty "
        "where it states none",
        "si esa versión de la etiqueta regía ese día, según los días que el registro indica; vacío si no "
        "indica ninguno",
    ),
    "=licence_valid": Wording(
        "whether the licence was valid on the day, by the days that the record states; empty where it states "
        "none",
        "si la licencia era válida ese día, según los días que el registro indica; vacío si no indica ninguno",
    ),
    f"{RECORD}.replaces.version": Wording("which version it replaces", "a qué versión sustituye"),
    "sections.people[].licences[].number": _LICENCE,
    "sections.firm.licences[].number": _LICENCE,
    "entry.received_at": Wording("when the signed version came in", "cuándo llegó la versión firmada"),
    "record.signatures": Wording("who signed", "quién firmó"),
}  # fmt: skip


def said_of(table: TableOf, col: Col) -> tuple[str, ...]:
    """The meaning in each language."""
    if col.at in _OWN:
        return tuple(_OWN[col.at].say(language) for language in LANGUAGES)
    if col.at.startswith("follow_ups[]."):
        return tuple(member_label(col.at.removeprefix("follow_ups[]."), each, FollowUp) for each in LANGUAGES)
    place = col.at.removeprefix("sections.")
    if col.at.startswith(f"{RECORD}."):
        place = f"record.{col.at.removeprefix(f'{RECORD}.')}"
    return tuple(member_label(place, language) for language in LANGUAGES)
