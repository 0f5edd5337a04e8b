"""What is said of a product's label."""

from shared.wording import Wording

CAUTION = Wording(
    "The label on the container is the law; this is a copy of some of it.",
    "La etiqueta del envase es la ley; esto es copia de una parte.",
)
REASON = Wording("The label says so.", "Lo dice la etiqueta.")
# 7 U.S.C. 136(ee)(2), as State rules restate it.
UNLISTED_TARGET = Wording(
    "Federal law lets an unlisted target be treated at a listed site unless the label limits it (7 U.S.C. "
    "136(ee)): read the label.",
    "La ley federal permite tratar un organismo no indicado en un lugar indicado salvo que la etiqueta lo "
    "limite (7 U.S.C. 136(ee)): lea la etiqueta.",
)

ASKED = {
    "limits": Wording("Limits of the label", "Límites de la etiqueta"),
    "not_on": Wording("Materials that the label rules out", "Materiales que excluye la etiqueta"),
    "sites": Wording("Sites of the label", "Lugares de la etiqueta"),
    "ppe": Wording("Protective equipment of the label", "Equipo de protección de la etiqueta"),
    "protection": Wording("Protection steps of the label", "Medidas de protección de la etiqueta"),
}
