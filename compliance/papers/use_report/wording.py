"""The words of the use report. It states what was used, and no finding."""

from shared.wording import Catalogue, Wording

WORDS: Catalogue = {
    "period": Wording("Period", "Periodo"),
    "county": Wording("County", "Condado"),
    "asked-by": Wording("To", "Para"),
    "due": Wording("Due", "Vence"),
    "sent": Wording("Sent", "Enviado"),
    "version": Wording("Version", "Versión"),
    "not-sent": Wording("NOT FILED – figures may still change", "NO PRESENTADO – las cifras pueden cambiar"),
    "own": Wording("For the firm alone", "Solo para la empresa"),
    "who": Wording("Who reports", "Quién informa"),
    "name": Wording("Name", "Nombre"),
    "address": Wording("Address", "Dirección"),
    "phone": Wording("Phone", "Teléfono"),
    "licence": Wording("Licence", "Licencia"),
    "not-stated": Wording("not stated", "no consta"),
    "amount": Wording("Amount", "Cantidad"),
    "applications": Wording("Applications", "Aplicaciones"),
    "nothing": Wording("Nothing was applied in this period.", "En este periodo no se aplicó nada."),
    "nothing-signed": Wording(
        "No signed record says that anything was applied in this period.",
        "Ningún registro firmado dice que en este periodo se aplicara algo.",
    ),
    "total": Wording("Applications of the period: {count}.", "Aplicaciones del periodo: {count}."),
    "no-amount": Wording(
        "Where no amount stands, the record does not state one or it can't be turned into the unit that is "
        "asked for.",
        "Donde no hay cantidad, el registro no la indica o no se puede pasar a la unidad que se pide.",
    ),
    "open": Wording("What is open", "Lo que falta"),
    "record": Wording("Record", "Registro"),
    "about": Wording("Of what", "De qué"),
    "lacks": Wording("What can't be told", "Lo que no se puede decir"),
    "more-open": Wording("And {count} more, on the page.", "Y {count} más, en la página."),
    "how": Wording("How it was worked out", "Cómo se calculó"),
    "applied": Wording(
        "Amounts are of product as it leaves the container, so much of it as was applied: amount in the mix × "
        "mix applied / mix made. They are added exactly and rounded once, to six digits.",
        "Las cantidades son de producto como sale del envase, en la parte que se aplicó: cantidad en la mezcla "
        "× mezcla aplicada / mezcla hecha. Se suman exactas y se redondean una vez, a seis cifras.",
    ),
    "litre": Wording("A litre of product counts as {kg} kg.", "Un litro de producto cuenta como {kg} kg."),
    "density": Wording(
        "Volumes are turned into weights by the density on the label.",
        "Los volúmenes se pasan a peso con la densidad de la etiqueta.",
    ),
    "adjuvants": Wording(
        "Spray adjuvants are counted with the pesticides.", "Los coadyuvantes se cuentan con los pesticidas."
    ),
    "ingredients": Wording(
        "Active ingredient is volume × density of the label × percentage on it.",
        "El ingrediente activo es volumen × densidad de la etiqueta × su porcentaje.",
    ),
    "signed": Wording(
        "Counted are the newest signed versions of records; void ones, drafts and records brought in from "
        "elsewhere are not.",
        "Se cuentan las últimas versiones firmadas de los registros; no los anulados, los borradores ni los "
        "traídos de otra parte.",
    ),
    "proof": Wording("Digest of this report", "Resumen criptográfico de este informe"),
    "subject": Wording("{title}, {period}", "{title}, {period}"),
    "identity": Wording("{title} · {period} · {firm}", "{title} · {period} · {firm}"),
    "page": Wording("Page {{page}} of {{pages}}", "Página {{page}} de {{pages}}"),
    "foot": Wording(
        "Help, not legal advice. Use the authority's own form where it asks for one. The label is the law.",
        "Ayuda, no asesoría legal. Use el formulario de la autoridad donde lo pida. La etiqueta es la ley.",
    ),
}
