"""The words of the cover letter, in English and Spanish."""

from compliance.papers.cover.nothing_fits import NOTHING_FITS
from shared.wording import Catalogue, Wording

WORDS: Catalogue = {
    **NOTHING_FITS,
    "title": Wording("Records of treatments", "Registros de tratamientos"),
    "subject": Wording("Records that you asked for", "Registros que usted solicitó"),
    "your-number": Wording("Your number: {number}", "Su número: {number}"),
    "received": Wording(
        "Your request reached us on {when}, {means}.", "Su solicitud nos llegó el {when}, {means}."
    ),
    "under": Wording("It names {paragraph}.", "Se apoya en {paragraph}."),
    "asked-for": Wording("You asked for: “{words}”", "Usted pidió: «{words}»"),
    "searched": Wording(
        "We searched our log for this: {boxes}.", "Buscamos esto en nuestro registro: {boxes}."
    ),
    "searched-all": Wording(
        "All that is signed in our log was searched for.", "Se buscó todo lo firmado en nuestro registro."
    ),
    "not-said": Wording("left out", "omitido"),
    "enclosed": Wording("Enclosed", "Incluido"),
    "count": Wording(
        "Treatments: {treatments}. Signed versions: {versions}. Days: {span}.",
        "Tratamientos: {treatments}. Versiones firmadas: {versions}. Días: {span}.",
    ),
    "span": Wording("from {first} to {last}", "del {first} al {last}"),
    "no-span": Wording("left out", "omitidos"),
    "replaced": Wording(
        "Versions that were replaced by a later one or are void: {count}. Each says so.",
        "Versiones sustituidas por otra o anuladas: {count}. Cada una lo dice.",
    ),
    "all-hold": Wording("Each of them holds as it stands.", "Todas valen tal como están."),
    "sheets": Wording(
        "A record sheet (PDF) of each version: {languages}.",
        "Una hoja de registro (PDF) de cada versión: {languages}.",
    ),
    "no-sheets": Wording("No record sheets: the data alone.", "Sin hojas de registro: solo los datos."),
    "photos": Wording("The photos that the records name.", "Las fotos que los registros nombran."),
    "photos-not-asked": Wording("Photos are not enclosed.", "No se incluyen fotos."),
    "photos-withheld": Wording(
        "No photos: a picture may show the site or the customer, and one of these is left out.",
        "Sin fotos: una imagen puede mostrar el sitio o al cliente, y uno de ellos se omitió.",
    ),
    "photos-none": Wording(
        "No photos: none that the records name in what is enclosed is kept.",
        "Sin fotos: no se guarda ninguna que los registros nombren en lo incluido.",
    ),
    "notices-withheld": Wording(
        "Notices as they went out, and what became of each, are not enclosed: they name customer, site and "
        "people, and one of these or the notices are left out.",
        "No se incluyen los avisos tal como salieron ni qué fue de cada uno: nombran al cliente, el sitio y a "
        "personas, y uno de estos o los avisos se omitieron.",
    ),
    "findings": Wording(
        "What rules were found to be met or not, with each rule as it stood that day. It is the firm's own "
        "look, and no finding of an authority.",
        "Qué reglas se encontraron cumplidas o no, cada una tal como estaba ese día. Es la mirada de la "
        "propia empresa, no la de una autoridad.",
    ),
    "facts-only": Wording(
        "Facts only: no opinion on them is in it.",
        "Solo hechos: no contiene ninguna opinión sobre ellos.",
    ),
    "left-out": Wording("Left out", "Omitido"),
    "left-out-these": Wording(
        "These parts are left out of every record: {parts}. Each record names them as withheld, and the "
        "rest can be checked all the same.",
        "Estas partes se omitieron en todos los registros: {parts}. Cada registro las nombra como "
        "omitidas, y lo demás se puede comprobar igual.",
    ),
    "nothing-left-out": Wording(
        "Nothing is left out of the records.", "No se omitió nada de los registros."
    ),
    "no-prints": Wording(
        "Labels are enclosed as the records state them: the firm keeps no print of them here.",
        "Las etiquetas van tal como las declaran los registros: la empresa no guarda aquí su impresión.",
    ),
    "not-in-it": Wording("What fits and is not enclosed", "Lo que corresponde y no se incluye"),
    "drafts": Wording(
        "Treatments up to today that nobody has signed: {count}. Only what is signed is enclosed.",
        "Tratamientos hasta hoy que nadie ha firmado: {count}. Solo se incluye lo firmado.",
    ),
    "brought-in": Wording(
        "Records that were brought in from older files: {count}. Nobody signed them here, so they are not "
        "enclosed; ask us for them.",
        "Registros traídos de archivos anteriores: {count}. Nadie los firmó aquí, por eso no se incluyen; "
        "pídanoslos.",
    ),
    "corrected": Wording("Corrected after your request came", "Corregido después de llegar su solicitud"),
    "corrected-one": Wording(
        "{number}, version {version}, {when}: {reason}",
        "{number}, versión {version}, {when}: {reason}",
    ),
    "voided-one": Wording(
        "{number}, version {version}, {when}, made void: {reason}",
        "{number}, versión {version}, {when}, anulado: {reason}",
    ),
    "fits-no-more": Wording(
        "As it stood before it fits what you asked for; as it stands now it does not. Both are enclosed.",
        "Tal como estaba antes corresponde a lo que usted pidió; tal como está ahora, no. Se incluyen ambos.",
    ),
    "signed-late": Wording(
        "Signed for the first time after your request came",
        "Firmado por primera vez después de llegar su solicitud",
    ),
    "signed-late-one": Wording("{number}, version {version}, {when}", "{number}, versión {version}, {when}"),
    "followed": Wording(
        "Follow-ups signed after your request came",
        "Seguimientos firmados después de llegar su solicitud",
    ),
    "followed-one": Wording(
        "{number}, version {version}, {when}: {kind}",
        "{number}, versión {version}, {when}: {kind}",
    ),
    "late-more": Wording("and {count} more, in the tables", "y {count} más, en las tablas"),
    "since": Wording("Since the file of {when}", "Desde el archivo del {when}"),
    "since-counts": Wording(
        "New records: {new}. New versions: {versions}. New follow-ups: {follow_ups}. Not in it any more: "
        "{gone}. Line by line in changes.csv. Digest of that file: {digest}",
        "Registros nuevos: {new}. Versiones nuevas: {versions}. Seguimientos nuevos: {follow_ups}. Ya no "
        "incluidos: {gone}. Línea por línea en changes.csv. Huella digital de aquel archivo: {digest}",
    ),
    "since-left-out": Wording("Left out of that file: {parts}.", "Omitido en aquel archivo: {parts}."),
    "check": Wording("How to check it", "Cómo comprobarlo"),
    "check-how": Wording(
        "Unpack the file. README.txt says what is in it. The program verify_records.py checks signatures, "
        "the place of each record in the firm's log, and every file; it needs Python 3.9 or later.",
        "Descomprima el archivo. README.txt dice qué contiene. El programa verify_records.py comprueba las "
        "firmas, el lugar de cada registro en el registro de firmas de la empresa y cada archivo; necesita "
        "Python 3.9 o posterior.",
    ),
    "check-key": Wording(
        "Ask us for the digest of our key by another way than this file, and give it to the program with "
        "--key.",
        "Pídanos la huella digital de nuestra clave por otro medio que este archivo, y désela al programa "
        "con --key.",
    ),
    "log": Wording(
        "The log had {size} entries when this was made. Its root:",
        "El registro de firmas tenía {size} entradas al hacer esto. Su raíz:",
    ),
    "where": Wording("What lies where in the file", "Qué hay en cada lugar del archivo"),
    "where/index.pdf": Wording("a line for each version, by month", "una línea por versión, por mes"),
    "where/sheets": Wording("record sheets, to be read", "hojas de registro, para leer"),
    "where/records": Wording(
        "each version as data (JSON), described in schema",
        "cada versión como datos (JSON), descritos en schema",
    ),
    "where/tables": Wording(
        "the same as tables (CSV); README.csv says what each column means",
        "lo mismo en tablas (CSV); README.csv dice qué significa cada columna",
    ),
    "where/labels": Wording(
        "what each product's label said, as recorded",
        "lo que decía la etiqueta de cada producto, tal como se anotó",
    ),
    "where/notices": Wording(
        "notices as they went out; the table says what became of each",
        "avisos tal como salieron; la tabla dice qué fue de cada uno",
    ),
    "where/photos": Wording("photos, named by their digests", "fotos, nombradas por su huella digital"),
    "where/findings": Wording("findings, and rules as they stood", "hallazgos, y reglas tal como estaban"),
    "where/forms": Wording(
        "the records on the authority's form",
        "los registros en el formulario de la autoridad",
    ),
    "where/changes.csv": Wording("what changed since the file before", "qué cambió desde el archivo anterior"),
    "where/log.json": Wording(
        "proof; with SHA256SUMS, keys.json, certificates",
        "prueba; con SHA256SUMS, keys.json, certificates",
    ),
    "for": Wording("For {firm}", "Por {firm}"),
    "foot": Wording(
        "Help with records, not legal advice and no approval. The product label is the law.",
        "Ayuda con los registros, no asesoría legal ni aprobación. La etiqueta del producto es la ley.",
    ),
    "page": Wording("Page {page} of {pages}", "Página {page} de {pages}"),
    "means/letter": Wording("by letter", "por carta"),
    "means/email": Wording("by e-mail", "por correo electrónico"),
    "means/phone": Wording("by phone", "por teléfono"),
    "means/in-person": Wording("in person", "en persona"),
    "language/en": Wording("English", "inglés"),
    "language/es": Wording("Spanish", "español"),
}  # fmt: skip
