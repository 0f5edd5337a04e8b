"""The quantities that limits judge, and the figures of a record that must go together, with their names."""

from compliance.rulebook.vocabulary import Figures, Measure
from records.document.words import LIMIT_DIMENSIONS
from shared.wording import Wording

_STOP = Wording("Stop, wait and measure again.", "Pare, espere y mida de nuevo.")
_LESS = Wording(
    "Check the amounts; if they are right, say why on the record.",
    "Compruebe las cantidades; si son correctas, explique el motivo en el registro.",
)
_WAIT = Wording("Choose a later time.", "Elija un momento posterior.")
_FARTHER = Wording("Keep a greater distance.", "Guarde más distancia.")
_LARGER = Wording("Put up a sign with larger letters.", "Coloque un letrero con letras más grandes.")
_LATE = Wording("Say why it was late.", "Diga por qué se hizo tarde.")
_ANYTHING = ("document", "products", "people", "mixes", "surfaces")


_DIMENSIONS = {
    **LIMIT_DIMENSIONS,
    "site_per_year": ("volume", "mass"),
    "well_distance": ("length",),
    "sign_letters": ("length",),
    "incident_told": ("time",),
}


def _measure(name: str, en: str, es: str, mend: Wording, judged_on: tuple[str, ...] = _ANYTHING) -> Measure:
    return Measure(name, _DIMENSIONS.get(name, ()), judged_on, Wording(en, es), mend)


MEASURES = (
    _measure("wind_speed", "Wind", "Viento", _STOP),
    _measure("gust", "Gust of wind", "Ráfaga de viento", _STOP),
    _measure("temperature", "Temperature", "Temperatura", _STOP),
    _measure("coverage", "Finished mix per area", "Mezcla por superficie", _LESS, ("products", "mixes")),
    _measure("dilution", "Strength of the mix", "Concentración de la mezcla", _LESS, ("products",)),
    _measure("product_rate", "Product per area", "Producto por superficie", _LESS, ("products",)),
    _measure(
        "hours_dry_after", "Dry time forecast after the end", "Tiempo seco previsto tras el final", _WAIT
    ),
    _measure("reentry", "Time until re-entry", "Tiempo hasta la reentrada", _WAIT),
    _measure(
        "days_between",
        "Time since the last treatment",
        "Tiempo desde el último tratamiento",
        _WAIT,
        ("products",),
    ),
    _measure(
        "applications_per_year", "Treatments this year", "Tratamientos de este año", _WAIT, ("products",)
    ),
    _measure(
        "per_year", "Product per area this year", "Producto por superficie este año", _LESS, ("products",)
    ),
    _measure(
        "site_per_year",
        "Product on the site this year",
        "Producto en el lugar este año",
        _LESS,
        ("products",),
    ),
    _measure(
        "site_applications_per_year",
        "Treatments of the site this year",
        "Tratamientos del lugar de este año",
        _WAIT,
        ("products",),
    ),
    _measure("buffer", "Distance to water", "Distancia al agua", _FARTHER),
    _measure("well_distance", "Distance to a well", "Distancia a un pozo", _FARTHER),
    _measure("sign_letters", "Letters on a sign", "Letras de un letrero", _LARGER, ("document",)),
    _measure(
        "incident_told",
        "Time from an incident until it was reported",
        "Tiempo desde un incidente hasta su notificación",
        _LATE,
        ("document",),
    ),
)

FIGURES = (
    Figures("loads-and-mixed", "mixes", Wording("Loads and what was mixed", "Cargas y lo mezclado")),
    Figures(
        "applied-and-left-over",
        "mixes",
        Wording("Applied and left over, and what was mixed", "Aplicado y sobrante, y lo mezclado"),
    ),
    Figures(
        "surfaces-and-applied",
        "mixes",
        Wording("Amounts on the surfaces and what was applied", "Cantidades por superficie y lo aplicado"),
    ),
    Figures(
        "applied-within-mixed", "mixes", Wording("Applied and what was mixed", "Aplicado y lo mezclado"), True
    ),
    Figures(
        "time-and-flow",
        "mixes",
        Wording(
            "Time that the rig needs at its flow, and time from start to finish (an estimate)",
            "Tiempo que necesita el equipo con su caudal, y tiempo de inicio a fin (estimación)",
        ),
        True,
    ),
    Figures(
        "area-within-slope",
        "surfaces",
        Wording("Treated area and area of the slope", "Superficie tratada y superficie de la vertiente"),
        True,
    ),
    Figures(
        "stock-and-mixed",
        "products",
        Wording("Product in the mix and stock of its lot", "Producto en la mezcla y existencias de su lote"),
        True,
    ),
)
