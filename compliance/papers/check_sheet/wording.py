"""The words of the check sheet. 'Met' is never worded as an approval."""

from shared.wording import Catalogue, Wording

WORDS: Catalogue = {
    "head/not-recorded": Wording("not recorded", "no registrado"),
    "head/none": Wording("none", "ninguno"),
    "title": Wording("Check sheet", "Hoja de comprobación"),
    "lead": Wording(
        "What the rules say of one treatment. It stays in the house unless it is asked for.",
        "Lo que dicen las reglas de un tratamiento. Se queda en la empresa salvo que se pida.",
    ),
    "not-signed": Wording(
        "NOT SIGNED – the check of a working document",
        "NO FIRMADO – comprobación de un documento de trabajo",
    ),
    "outcome": Wording("Outcome of the whole", "Resultado del conjunto"),
    "number": Wording("Record", "Registro"),
    "version": Wording("Version", "Versión"),
    "on": Wording("Checked as of", "Comprobado a fecha de"),
    "engine": Wording("Engine", "Motor"),
    "subject": Wording(
        "Check of record {number}, version {version}", "Comprobación del registro {number}, versión {version}"
    ),
    "identity": Wording(
        "Check of record {number} · version {version} · document {digest}",
        "Comprobación del registro {number} · versión {version} · documento {digest}",
    ),
    "page": Wording("Page {{page}} of {{pages}}", "Página {{page}} de {{pages}}"),
    "foot": Wording(
        "Help, not legal advice, and no approval. The label is the law; local codes and licensed practice "
        "come first.",
        "Ayuda, no asesoramiento jurídico ni aprobación. La etiqueta es la ley; "
        "prevalecen los códigos locales y la práctica con licencia.",
    ),
    "sign/not_met": Wording("✗ Not met", "✗ No se cumple"),
    "sign/not_met_from_memory": Wording("◇ To be confirmed", "◇ Por confirmar"),
    "sign/cant_tell": Wording("? Can't tell", "? No se sabe"),
    "sign/met": Wording("✓ Met", "✓ Se cumple"),
    "sign/not_applicable": Wording("– Doesn't apply", "– No corresponde"),
    "count": Wording("{sign} ({count})", "{sign} ({count})"),
    "about/not_met": Wording(
        "What is on record, or missing from it, does not agree with the rule.",
        "Lo que consta, o falta, en el registro no concuerda con la regla.",
    ),
    "about/not_met_from_memory": Wording(
        "These rules rest on memory: their text was not read. They are asked for all the same, and are not "
        "stated as breaches.",
        "Estas reglas se basan en la memoria: su texto no se ha leído. Se piden igualmente, y no se afirman "
        "como incumplimientos.",
    ),
    "about/cant_tell": Wording(
        "A fact that the rule needs is missing, or a question of law is open.",
        "Falta un dato que la regla necesita, o hay una cuestión jurídica abierta.",
    ),
    "about/met": Wording(
        "What is on record agrees with the rule as it was read. This is no approval.",
        "Lo que consta en el registro concuerda con la regla tal como se leyó. No es una aprobación.",
    ),
    "about/not_applicable": Wording(
        "The rule does not bind here, or is not due yet; each says why.",
        "La regla no obliga aquí, o aún no vence; cada una dice por qué.",
    ),
    "finding": Wording("Rule and finding", "Regla y resultado"),
    "observed": Wording("On record", "Consta"),
    "bound": Wording("Rule asks", "La regla pide"),
    "cite": Wording("Source", "Fuente"),
    "level": Wording("Level", "Nivel"),
    "level/required": Wording("required", "obligatorio"),
    "level/advised": Wording("advised", "recomendado"),
    "layer/record": Wording("the record itself", "el propio registro"),
    "layer/practice": Wording("good practice", "buena práctica"),
    "layer/law": Wording("law", "ley"),
    "layer/label": Wording("label", "etiqueta"),
    "layer/firm": Wording("firm policy", "norma de la empresa"),
    "due": Wording("due {when}", "vence {when}"),
    "keep-until": Wording("keep until {when}", "conservar hasta {when}"),
    "doubt": Wording("Doubt: {doubt}", "Duda: {doubt}"),
    "from-memory": Wording("The text of this rule is from memory.", "El texto de esta regla es de memoria."),
    "restated": Wording(
        "The text of this rule was read as others restate it.",
        "El texto de esta regla se leyó tal como otros lo repiten.",
    ),
    "answer": Wording("Answer given: {reason}", "Respuesta dada: {reason}"),
    "at-latest": Wording("by {max} at the latest", "a más tardar {max}"),
    "at-least": Wording("at least {min}", "como mínimo {min}"),
    "at-most": Wording("at most {max}", "como máximo {max}"),
    "between": Wording("{min} to {max}", "de {min} a {max}"),
    "answers": Wording("Answers", "Respuestas"),
    "answer-rule": Wording("Rule", "Regla"),
    "answer-about": Wording("About", "Sobre"),
    "answer-reason": Wording("Reason given by the signer", "Motivo dado por quien firma"),
    "limits": Wording("Limits in force", "Límites vigentes"),
    "limit-of": Wording("Quantity", "Magnitud"),
    "limit-for": Wording("For", "Para"),
    "limit": Wording("Limit", "Límite"),
    "set-by": Wording("Set by", "Fijado por"),
    "not-checked": Wording("Not checked", "No comprobado"),
    "nothing-known": Wording(
        "Nothing more is known to be left out; the packs below are all that was asked.",
        "No se conoce nada más que falte; solo se consultaron los paquetes de abajo.",
    ),
    "not-covered": Wording("Places whose law is not covered", "Lugares cuya ley no se cubre"),
    "questions": Wording("Open questions", "Cuestiones abiertas"),
    "ask-whom": Wording("ask {whom}", "consulte a {whom}"),
    "packs": Wording("Rule packs used", "Paquetes de reglas usados"),
    "pack": Wording("Pack", "Paquete"),
    "pack-version": Wording("Version", "Versión"),
    "reviewed": Wording("Last reviewed", "Última revisión"),
    "means/read": Wording("against the text", "contra el texto"),
    "means/memory": Wording("from memory", "de memoria"),
    "means/mixed": Wording("partly against the text", "en parte contra el texto"),
    "digests": Wording("Digests", "Huellas digitales"),
    "document-digest": Wording("Document checked", "Documento comprobado"),
    "context-digest": Wording("Context of the check", "Contexto de la comprobación"),
    "pack-digest": Wording("Pack {pack}", "Paquete {pack}"),
    "no-findings": Wording("No rule was found to judge.", "No se encontró ninguna regla que juzgar."),
}
