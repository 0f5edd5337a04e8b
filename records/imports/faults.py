"""What may be wrong with a file, in words."""

from dataclasses import dataclass, field

from records.imports.arriving_wordings import ARRIVING
from shared.wording import Blanks, Sayable, Wording, say, shortened

WORDINGS = {
    "too_big": Wording("The file has more than {most} megabytes.", "El archivo tiene más de {most} megabytes."),
    "not_text": Wording(
        "This is no text. Save the table as CSV.", "Esto no es texto. Guarde la tabla como CSV."
    ),
    "no_rows": Wording("There is nothing in it but a header.", "No contiene nada más que un encabezado."),
    "too_many_rows": Wording("It has more than {most} rows.", "Tiene más de {most} filas."),
    "too_many_columns": Wording("It has more than {most} columns.", "Tiene más de {most} columnas."),
    "not_csv": Wording("This row can't be read as CSV: {why}.", "Esta fila no se puede leer como CSV: {why}."),
    "more_cells": Wording(
        "This row has {count} cells, the header {wanted}.",
        "Esta fila tiene {count} celdas y el encabezado {wanted}.",
    ),
    "twice": Wording(
        "Two columns are taken for the same: {what}.", "Dos columnas se toman por lo mismo: {what}."
    ),
    "no_address_column": Wording(
        "No column is taken for the street address. Choose it.",
        "Ninguna columna se toma por la dirección. Elíjala.",
    ),
    "no_address": Wording("There is neither an address nor a position.", "No hay dirección ni posición."),
    "too_long": Wording("At most {most} characters.", "Como máximo {most} caracteres."),
    "control": Wording("A character that no text holds.", "Un carácter que ningún texto contiene."),
    "email": Wording("This is no e-mail address.", "Esto no es una dirección de correo."),
    "phone": Wording(
        "This is no phone number: 7 to 20 digits, with + ( ) - . or x between them.",
        "Esto no es un número de teléfono: de 7 a 20 dígitos, con + ( ) - . o x entre ellos.",
    ),
    "yes_no": Wording("Expected yes or no.", "Se esperaba sí o no."),
    "country": Wording("Expected two letters, as US.", "Se esperaban dos letras, como US."),
    "language": Wording("Expected en or es.", "Se esperaba en o es."),
    "standing": Wording("Expected owner or occupant.", "Se esperaba propietario u ocupante."),
    "length": Wording("{why}", "{why}"),
    "degrees": Wording("Expected degrees, as 47.1.", "Se esperaban grados, como 47.1."),
    "whole": Wording("Expected a whole number.", "Se esperaba un número entero."),
    "double": Wording("The same as row {row}.", "Lo mismo que la fila {row}."),
    "no_collection": Wording(
        "Expected a FeatureCollection of parcels.", "Se esperaba una FeatureCollection de parcelas."
    ),
    "too_many_points": Wording(
        "Its shapes have more than {most} points in all. Ask for the parcels around the site alone.",
        "Sus formas tienen más de {most} puntos en total. Pida solo las parcelas alrededor del sitio.",
    ),
    "takes_too_long": Wording(
        "To work out these distances would take too long: there are too many parcels with long boundaries.",
        "Calcular estas distancias tardaría demasiado: hay demasiadas parcelas con linderos largos.",
    ),
    "no_id": Wording("An id is a text or a number.", "Un id es un texto o un número."),
    "no_feature": Wording("This is no Feature.", "Esto no es una Feature."),
    "shape": Wording("{why}", "{why}"),
    "point": Wording("A parcel is a Polygon or MultiPolygon.", "Una parcela es Polygon o MultiPolygon."),
    "same_number": Wording("Two parcels have the number {number}.", "Dos parcelas tienen el número {number}."),
    "no_such_parcel": Wording("The file has no parcel {number}.", "El archivo no tiene la parcela {number}."),
    "no_ground": Wording(
        "Distances can't be worked out: choose the site's own parcel, or enter the site's position.",
        "No se pueden calcular distancias: elija la parcela propia del sitio o anote la posición del sitio.",
    ),
    "order": Wording(
        "It lies near the site only if longitude and latitude are exchanged.",
        "Solo queda cerca del sitio si se invierten la longitud y la latitud.",
    ),
    "far": Wording("It lies {km} km from the site.", "Queda a {km} km del sitio."),
    **ARRIVING,
}


@dataclass(frozen=True)
class FileFault:
    """One fault; `row` counts from 1 with the header, 0 is the whole file."""

    wording_id: str
    blanks: Blanks = field(default_factory=dict)
    row: int = 0
    column: str = ""
    got: str = ""

    def say(self, language: str) -> str:
        return say(WORDINGS, self.wording_id, self.blanks, language)

    @property
    def shown(self) -> str:
        """What stood there, short enough to be repeated."""
        return shortened(self.got)


class FileError(ValueError):
    """Nothing of the file is taken."""

    def __init__(self, *faults: FileFault) -> None:
        super().__init__(faults[0].say("en"))
        self.faults = list(faults)


def refused(wording_id: str, row: int = 0, **blanks: str | Sayable) -> FileError:
    return FileError(FileFault(wording_id, blanks, row))
