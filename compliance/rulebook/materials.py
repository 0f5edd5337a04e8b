"""The materials of buildings and grounds by their names, in English, Spanish and German. From memory.

A name is here without accents and in whatever number; its stem is what is compared.
"""

from collections.abc import Mapping

METAL = "metal"
METALS = frozenset({"metal", "copper", "zinc", "aluminum", "lead", "steel", "iron", "tin", "brass", "bronze"})

SAME: Mapping[str, tuple[str, ...]] = {
    "metal": ("metalico", "metalica", "metall"),
    "copper": ("cobre", "kupfer"),
    "zinc": ("cinc", "zink", "galvanized", "galvanised", "galvanizado", "galvanizada", "verzinkt"),
    "aluminum": ("aluminium", "aluminio"),
    "lead": ("plomo", "blei"),
    "steel": ("acero", "stahl"),
    "iron": ("hierro", "eisen"),
    "tin": ("estano", "hojalata", "blech"),
    "brass": ("laton", "messing"),
    "bronze": ("bronce",),
    "painted": ("pintado", "pintada", "paint", "pintura", "gestrichen"),
    "wood": ("wooden", "madera", "holz"),
    "glass": ("vidrio", "glas"),
    "concrete": ("concreto", "hormigon", "beton"),
    "brick": ("ladrillo", "ziegel"),
    "stone": ("piedra", "stein"),
    "slate": ("pizarra", "schiefer"),
    "asphalt": ("asfalto", "asfaltica"),
    "plastic": ("plastico", "kunststoff"),
    "marble": ("marmol", "marmor"),
    "clay": ("arcilla", "barro", "ton"),
}
"""What several languages call the same."""

SEEN_ELSEWHERE = (
    "acrylic", "adobe", "bamboo", "basalt", "bitumen", "block", "bluestone", "cedar", "cement", "cemento",
    "ceramic", "cob", "composite", "compuesto", "cypress", "epdm", "felt", "fiber", "fiberglass", "fibre",
    "flagstone", "foam", "granite", "granito", "grass", "gravel", "grava", "limestone", "caliza", "membrane",
    "mortar", "paver", "adoquin", "paving", "pine", "porcelain", "pvc", "quartz", "redwood", "render", "rubber",
    "sandstone", "shake", "shingle", "soil", "stain", "stucco", "tar", "teak", "terracotta", "thatch", "tile",
    "teja", "timber", "tpo", "travertine", "turf", "cesped", "vinyl", "vinilo",
)  # fmt: skip
"""Other materials that are known: none that is in this list is one that is called by a name above."""
