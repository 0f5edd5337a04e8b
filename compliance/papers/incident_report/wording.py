"""The words of the report of an incident, over those of the record sheet, whose parts it takes up."""

from compliance.papers.record_sheet.wording import WORDS as RECORD_WORDS
from shared.wording import Catalogue, Wording

OWN: Catalogue = {
    "incident/title": Wording("Incident report", "Informe de incidente"),
    "incident/kind": Wording("What it was", "Qué fue"),
    "incident/happened": Wording("When it happened", "Cuándo ocurrió"),
    "incident/known": Wording("When the firm knew of it", "Cuándo lo supo la empresa"),
    "incident/state": Wording("State", "Estado"),
    "incident/open": Wording("open", "abierto"),
    "incident/reported": Wording("reported", "notificado"),
    "incident/closed": Wording("closed", "cerrado"),
    "incident/lead": Wording(
        "What is known so far, as the firm wrote it down. It states facts, and nothing of whose fault it was.",
        "Lo que se sabe hasta ahora, según lo anotó la empresa. Expone hechos y no dice de quién fue la culpa.",
    ),
    "incident/who": Wording("Who reports", "Quién informa"),
    "incident/firm": Wording("Firm", "Empresa"),
    "incident/address": Wording("Address", "Dirección"),
    "incident/phone": Wording("Phone", "Teléfono"),
    "incident/entered": Wording("Entered by", "Anotado por"),
    "incident/where": Wording("Where", "Dónde"),
    "incident/what": Wording("What happened", "Qué pasó"),
    "incident/amount": Wording("How much got out", "Cuánto salió"),
    "incident/reached": Wording("How far it got", "Hasta dónde llegó"),
    "incident/affected": Wording("Affected", "Afectados"),
    "incident/names": Wording("Names", "Nombres"),
    "incident/names-out": Wording(
        "Names are known to the firm, and left out here.",
        "La empresa conoce los nombres; aquí se omiten.",
    ),
    "incident/done": Wording("What was done about it", "Qué se hizo"),
    "incident/told": Wording("Who was told", "A quién se avisó"),
    "incident/nobody": Wording("Nobody yet.", "A nadie todavía."),
    "incident/to": Wording("Who", "Quién"),
    "incident/at": Wording("When", "Cuándo"),
    "incident/how": Wording("How", "Cómo"),
    "incident/number": Wording("Their number", "Su número"),
    "incident/under": Wording("Under", "Según"),
    "incident/by": Wording("By", "Por"),
    "incident/text": Wording("What", "Qué"),
    "incident/since": Wording("Since then", "Desde entonces"),
    "incident/product": Wording("Product", "Producto"),
    "incident/registration": Wording("Registration number", "Número de registro"),
    "incident/ingredients": Wording("Active ingredients", "Ingredientes activos"),
    "incident/from-signed": Wording(
        "What follows is from the signed record {number}.",
        "Lo que sigue es del registro firmado {number}.",
    ),
    "incident/from-draft": Wording(
        "What follows is from the record {number}, which is not signed yet.",
        "Lo que sigue es del registro {number}, que aún no está firmado.",
    ),
    "incident/record": Wording("The treatment", "El tratamiento"),
    "incident/identity": Wording("{kind}, {at}", "{kind}, {at}"),
    "incident/foot": Wording(
        "The product label is the law. Signal word, first aid and what to do with a spill stand on it.",
        "La etiqueta del producto es la ley. En ella están la palabra de señal, los primeros auxilios y qué "
        "hacer con un derrame.",
    ),
}
WORDS: Catalogue = {**RECORD_WORDS, **OWN}
