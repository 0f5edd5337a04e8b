"""What may be wrong with a spreadsheet of past years, in words."""

from shared.wording import Wording

ARRIVING = {
    "old_workbook": Wording(
        "This is an old or a locked workbook. Save it as .xlsx without a password.",
        "Es un libro antiguo o con contraseña. Guárdelo como .xlsx sin contraseña.",
    ),
    "not_workbook": Wording(
        "This workbook is damaged or is none. Open it, and save it again as .xlsx or as CSV.",
        "Este libro está dañado o no lo es. Ábralo y guárdelo de nuevo como .xlsx o como CSV.",
    ),
    "macros": Wording(
        "This workbook holds programs (macros). Save it as .xlsx, which leaves them out.",
        "Este libro contiene programas (macros). Guárdelo como .xlsx, que los deja fuera.",
    ),
    "zip_bomb": Wording(
        "It would unpack to far more than a spreadsheet needs. It is not opened.",
        "Se desempaquetaría en mucho más de lo que necesita una hoja. No se abre.",
    ),
    "too_many_merges": Wording(
        "More than {most} cells are merged. Undo that in the spreadsheet.",
        "Hay más de {most} celdas combinadas. Deshágalo en la hoja.",
    ),
    "merged": Wording(
        "The cells {cells} are merged: nobody can tell whose value it is.",
        "Las celdas {cells} están combinadas: no se sabe de quién es el valor.",
    ),
    "unreadable": Wording(
        "It could not be read to its end, and nobody knows why. Save it as CSV and send that.",
        "No se pudo leer hasta el final y no se sabe por qué. Guárdelo como CSV y envíe eso.",
    ),
    "no_sheet": Wording("No sheet of it holds anything.", "Ninguna de sus hojas contiene nada."),
    "no_such_sheet": Wording("There is no sheet {sheet}.", "No hay ninguna hoja {sheet}."),
    "missing_column": Wording(
        "No column is taken for this: {what}. Choose it.", "Ninguna columna se toma por esto: {what}. Elíjala."
    ),
    "missing": Wording("This is empty: {what}.", "Esto está vacío: {what}."),
    "formula": Wording(
        "A formula without a result. Save the file in the spreadsheet program, or write the value.",
        "Una fórmula sin resultado. Guarde el archivo en el programa de hojas o escriba el valor.",
    ),
    "error_cell": Wording(
        "The spreadsheet itself shows an error here.", "La propia hoja muestra aquí un error."
    ),
    "no_day": Wording("Expected a day, as 2025-04-03.", "Se esperaba un día, como 2025-04-03."),
    "no_such_day": Wording("There is no such day.", "Ese día no existe."),
    "day_ahead": Wording("This day is still to come.", "Ese día todavía no ha llegado."),
    "no_time": Wording("Expected a time, as 9:15 AM or 14:30.", "Se esperaba una hora, como 9:15 AM o 14:30."),
    "before_start": Wording("This is before the start.", "Es anterior al inicio."),
    "quantity": Wording("{why}", "{why}"),
    "number": Wording("Expected a number.", "Se esperaba un número."),
    "negative": Wording("This can't be less than 0.", "No puede ser menor que 0."),
    "word": Wording("Expected one of: {allowed}.", "Se esperaba uno de estos: {allowed}."),
    "garbled": Wording(
        "Letters of this text are broken. Save the file again as UTF-8.",
        "Hay letras rotas en este texto. Guarde el archivo de nuevo como UTF-8.",
    ),
    "direction": Wording(
        "Expected a direction, as SW or 225.", "Se esperaba una dirección, como SO o 225."
    ),
    "place": Wording(
        "Expected a state or a place, as WA or us-wa.", "Se esperaba un estado o lugar, como WA o us-wa."
    ),
    "number_taken": Wording(
        "A treatment with the number {number} is there already.",
        "Ya hay un tratamiento con el número {number}.",
    ),
    "same_treatment": Wording(
        "Row {row} has the number {number}, too.", "La fila {row} también tiene el número {number}."
    ),
    "needs_product": Wording("An amount without a product.", "Una cantidad sin producto."),
    "document": Wording("{why}", "{why}"),
}  # fmt: skip
