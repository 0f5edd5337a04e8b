"""What a report says is open. Pure."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "missing": Wording("not stated: {members}", "no consta: {members}"),
    "no_density": Wording(
        "the label has no density, so that volume and weight can't be turned into each other",
        "la etiqueta no da densidad, y no se puede pasar de volumen a peso ni al revés",
    ),
    "no_percent": Wording(
        "the label states no percentage of an active ingredient",
        "la etiqueta no indica el porcentaje de un ingrediente activo",
    ),
    "no_basis": Wording(
        "it is not stated whether the percentage is of weight or of volume",
        "no consta si el porcentaje es de peso o de volumen",
    ),
    "basis": Wording(
        "its percentage is of something else than weight or volume",
        "su porcentaje no es de peso ni de volumen",
    ),
    "no_ingredient": Wording("no active ingredient is stated", "no consta ningún ingrediente activo"),
    "no_registration": Wording("no registration number is stated", "no consta el número de registro"),
    "no_kind": Wording(
        "it is not stated whether this is a pesticide; it is counted as one",
        "no consta si es un pesticida; se cuenta como tal",
    ),
    "no_county": Wording("the county of the site is not stated", "no consta el condado del sitio"),
    "of_no_county": Wording(
        "the county of the site is not stated, so that this record stands in no county's report",
        "no consta el condado del sitio, y este registro no está en el informe de ningún condado",
    ),
    "no_area": Wording("the treated area is not stated", "no consta la superficie tratada"),
    "no_surface": Wording(
        "it is not stated which surfaces were treated", "no consta qué superficies se trataron"
    ),
}
