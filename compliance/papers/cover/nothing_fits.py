"""The words of a letter without records, in English and Spanish: what was searched, and that nothing fits."""

from shared.wording import Catalogue, Wording

NOTHING_FITS: Catalogue = {
    "nothing/subject": Wording("Answer to your request for records", "Respuesta a su solicitud de registros"),
    "nothing/found": Wording("What we found", "Lo que encontramos"),
    "nothing/searched": Wording(
        "On {when}, the log was searched for this: {boxes}.",
        "El {when}, se buscó esto en el registro: {boxes}.",
    ),
    "nothing/all": Wording("all that is signed", "todo lo firmado"),
    "nothing/fits": Wording("Nothing that is signed fits.", "Nada de lo firmado corresponde."),
    "nothing/enclosed": Wording("No record is enclosed.", "No se incluye ningún registro."),
    "nothing/erased": Wording(
        "Records whose parts on people were erased after their term: {count}. By those parts they can't be "
        "found any more.",
        "Registros cuyas partes sobre personas se borraron tras su plazo: {count}. Por esas partes ya no se "
        "pueden encontrar.",
    ),
    "nothing/drafts": Wording(
        "Treatments up to today that fit and that nobody has signed: {count}. Only what is signed is handed "
        "over.",
        "Tratamientos hasta hoy que corresponden y que nadie ha firmado: {count}. Solo se entrega lo firmado.",
    ),
    "nothing/check-how": Wording(
        "Unpack the file. README.txt says what may be in it. The program verify_records.py checks the signed "
        "state of the firm's log and every file; it needs Python 3.9 or later. That nothing fits is what we "
        "say; the program can't show it.",
        "Descomprima el archivo. README.txt dice qué puede contener. El programa verify_records.py comprueba "
        "el estado firmado del registro de firmas de la empresa y cada archivo; necesita Python 3.9 o "
        "posterior. Que nada corresponde lo decimos nosotros; el programa no puede demostrarlo.",
    ),
}
