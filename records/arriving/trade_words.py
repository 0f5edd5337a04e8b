"""Words of closed lists as old logs write them. Those beside the lists' own: common practice, no source."""

from records.document.words import WORD_LISTS
from records.imports.columns import folded_header

_ALSO = {
    "surface_kind": {
        "roof": "roofs|roofing|main roof|techo|azotea", "walk": "walkway|sidewalk|path|steps|vereda|camino",
        "drive": "driveway|cochera|entrada", "wall": "siding|walls|house wash|stucco|brick|fachada|muro"
        "|revestimiento",
        "deck": "decking|wood deck|terraza", "patio": "pavers|paver patio"
        "|pavers patio", "gutter": "gutters|canalones",
        "fence": "fencing|barda|reja", "lawn": "turf|grass|pasto|cesped",
    },
    "target": {
        "moss": "mosses|musgos", "algae": "alga|black algae|gloeocapsa|streaks|green algae|verdin",
        "lichen": "lichens|liquenes", "mould": "mold|mildew|hongo|hongos", "weeds": "weed|hierba|maleza",
    },
    "site_use": {
        "residence": "residential|house|home|single family|casa|residencial|vivienda",
        "multiple-dwelling": "apartments|apartment|condo|hoa|multi family|multifamily|departamentos"
        "|condominio",
        "business": "commercial|store|office|retail|comercial|negocio|oficina", "school": "escuela",
        "public": "church|park|municipal|publico|iglesia", "industrial": "warehouse|bodega",
    },
    "sky": {
        "clear": "sunny|sun|fair|soleado", "partly-cloudy": "partly cloudy|partly sunny|mixed"
        "|parcialmente nublado",
        "overcast": "cloudy|grey|gray|nublado", "fog": "foggy|mist|neblina", "rain": "rainy|drizzle"
        "|showers|lluvioso|llovizna",
    },
    "method": {
        "powered-sprayer": "power sprayer|rig|soft wash|spray rig|pump|truck"
        "|bomba", "backpack-sprayer": "backpack|mochila",
        "pump-up-sprayer": "pump up|hand sprayer|pump sprayer|hand pump|manual", "hose-end": "hose end"
        "|manguera",
        "granules-by-hand": "granules|granular|by hand|granulos", "brush": "brushed|brocha",
    },
    "result": {"treated": "done|complete|completed|ok|yes|finished|hecho|terminado|tratado", "stood-down":
               "cancelled|canceled|rescheduled|no spray|not done|cancelado|reprogramado"},
    "role": {"applicator": "tech|technician|operator|tecnico|operador", "helper": "ground man|assistant"
    "|ayudante",
             "supervisor": "foreman|lead|capataz", "licensee": "owner|dueno"},
    "product_kind": {"pesticide": "herbicide|algaecide|biocide|moss killer"
    "|alguicida", "adjuvant": "surfactant|surfactante"},
}  # fmt: skip


def _by_word(words: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for code, wording in WORD_LISTS[words].items():
        for spelled in (
            code,
            wording.say("en"),
            wording.say("es"),
            *_ALSO.get(words, {}).get(code, "").split("|"),
        ):
            found.setdefault(folded_header(spelled), code)
    found.pop("", None)
    return found


_KNOWN = {words: _by_word(words) for words in WORD_LISTS}


def word_of(words: str, text: str) -> str | None:
    return _KNOWN[words].get(folded_header(text))
