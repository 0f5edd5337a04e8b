"""What the columns of the tables mean that are not made from record files, in English and Spanish. Pure."""

from shared.wording import Catalogue, Wording

_NUMBER = Wording("number of the record", "número del registro")
NOTICES_SENT: Catalogue = {
    "number": _NUMBER,
    "notice": Wording("key of the notice", "clave del aviso"),
    "to": Wording("who was told", "a quién se avisó"),
    "name": Wording(
        "their name; empty for who lives near",
        "su nombre; vacío para quien vive cerca",
    ),
    "means": Wording("by which way it went", "por qué vía se envió"),
    "languages": Wording("languages of its words", "idiomas del texto"),
    "made_at": Wording("when it was written", "cuándo se escribió"),
    "planned_for": Wording("when it was to go out", "cuándo debía salir"),
    "state": Wording("what became of it", "en qué quedó"),
    "sent_at": Wording("when it was sent", "cuándo se envió"),
    "delivered_at": Wording("when it was delivered", "cuándo se entregó"),
    "digest": Wording("digest of its words (SHA-256)", "huella digital del texto (SHA-256)"),
    "file": Wording("the file of its words in the bundle", "el archivo del texto en el paquete"),
    "what_happened": Wording("each attempt: when, and what came of it", "cada intento: cuándo y qué resultó"),
}
CHANGES: Catalogue = {
    "what": Wording("what has changed since the file before", "qué cambió desde el archivo anterior"),
    "number": _NUMBER,
    "version": Wording(
        "the version; of a follow-up, the one that it follows",
        "la versión; de un seguimiento, la que continúa",
    ),
    "kind": Wording("kind of the version or of the follow-up", "clase de la versión o del seguimiento"),
    "digest": Wording(
        "digest of what was signed (SHA-256)",
        "huella digital de lo firmado (SHA-256)",
    ),
}
TABLES_BESIDE = {"notices-sent.csv": NOTICES_SENT, "changes.csv": CHANGES}
