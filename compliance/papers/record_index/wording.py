"""The words of the index, in English and Spanish."""

from shared.wording import Catalogue, Wording

WORDS: Catalogue = {
    "title": Wording("Index of records", "Índice de registros"),
    "lead": Wording(
        "{versions} versions. Each lies in the file as data and, where enclosed, as a record sheet of the "
        "same name.",
        "{versions} versiones. Cada una está en el archivo como datos y, si se incluyó, como hoja de "
        "registro del mismo nombre.",
    ),
    "number": Wording("Record", "Registro"),
    "day": Wording("Day", "Día"),
    "site": Wording("Site", "Sitio"),
    "products": Wording("Products (registration number)", "Productos (número de registro)"),
    "files": Wording("Files", "Archivos"),
    "no-day": Wording("Days left out", "Sin los días"),
    "holds": Wording("holds", "vale"),
    "void": Wording("void", "anulado"),
    "replaced": Wording("replaced", "sustituido"),
    "withheld": Wording("withheld", "omitido"),
    "page": Wording("Page {page} of {pages}", "Página {page} de {pages}"),
}  # fmt: skip
