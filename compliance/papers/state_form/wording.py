"""The words of a paper that follows an authority's form. What the form itself asks for stands in the pack."""

from compliance.papers.record_sheet.wording import WORDS as SHEET_WORDS
from shared.wording import Catalogue, Wording

_FORM: Catalogue = {
    "for": Wording("Asked for by", "Lo pide"),
    "under": Wording("Under", "Según"),
    "applications": Wording("Applications", "Aplicaciones"),
    "made-for": Wording("Made for", "Hecho para"),
    "records": Wording("Records", "Registros"),
    "nth": Wording("No.", "N.º"),
    "record": Wording("Record", "Registro"),
    "version": Wording("Version", "Versión"),
    "signed": Wording("Signed", "Firmado"),
    "digest": Wording("Digest {digest}", "Huella digital {digest}"),
    "corrects": Wording("corrected {at}: {why}", "corregido el {at}: {why}"),
    "after-asked": Wording(
        "corrected {at}, AFTER THESE RECORDS WERE ASKED FOR: {why}",
        "corregido el {at}, DESPUÉS DE QUE SE PIDIERON ESTOS REGISTROS: {why}",
    ),
    "signed-late": Wording(
        "signed {days} after the day of the application", "firmado {days} después del día de la aplicación"
    ),
    "law-asks": Wording(
        "What the law asks of such a record: {text}", "Lo que la ley pide de tal registro: {text}"
    ),
    "no": Wording("No", "No"),
    "ground": Wording("Ground", "Terrestre"),
    "if-any": Wording("– ({when})", "– ({when})"),
    "open": Wording("Still open", "Queda abierto"),
    "open-item": Wording("Item", "Punto"),
    "open-what": Wording("What the record does not say", "Lo que el registro no dice"),
    "nothing-open": Wording(
        "Each element has an answer, or is asked for only in a case that the paper names.",
        "Cada elemento tiene respuesta, o se pide solo en un caso que el papel nombra.",
    ),
    "not-here": Wording("Not on this form", "Fuera de este formulario"),
    "stood-down": Wording("{number}: nothing was applied.", "{number}: no se aplicó nada."),
    "void": Wording("{number}: the record is void.", "{number}: el registro está anulado."),
    "nothing-applied": Wording(
        "None of these records states an application.", "Ninguno de estos registros indica una aplicación."
    ),
    "lead": Wording(
        "Elements in the order of the authority's form, each from the signed record. Amounts that were "
        "computed are rounded here to four digits.",
        "Elementos en el orden del formulario de la autoridad, cada uno del registro firmado. Las cantidades "
        "calculadas se redondean aquí a cuatro dígitos.",
    ),
    "foot": Wording(
        "Made from signed records; the records themselves are the evidence. Not the authority's printed "
        "sheet, no legal advice. The label is the law.",
        "Hecho con registros firmados; la prueba son los registros mismos. No es la hoja impresa de la "
        "autoridad ni asesoría legal. La etiqueta es la ley.",
    ),
}

WORDS: Catalogue = {**SHEET_WORDS, **{f"form/{name}": wording for name, wording in _FORM.items()}}
