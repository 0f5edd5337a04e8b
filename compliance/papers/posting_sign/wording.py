"""The words beside a posting sign. What stands on it are the law's own words, in the law's language."""

from shared.wording import Catalogue, Wording

WORDS: Catalogue = {
    "title": Wording("Sign to post", "Letrero para colocar"),
    "back": Wording("Back of the sign", "Dorso del letrero"),
    "scale": Wording(
        "Print at 100 %. Then measure both lines before you cut.",
        "Imprima al 100 %. Luego mida las dos líneas antes de cortar.",
    ),
    "line-mm": Wording("This line is 100 mm long.", "Esta línea mide 100 mm."),
    "line-in": Wording("This line is 4 in long.", "Esta línea mide 4 pulgadas."),
    "cut": Wording("Cut along the frame.", "Corte por el marco."),
    "law": Wording("Asked for by {cite}.", "Lo pide {cite}."),
    "material": Wording("Material: {text}.", "Material: {text}."),
    "where": Wording("Where it stands: {text}.", "Dónde va: {text}."),
    "ink": Wording(
        "Fill in the blanks with ink that does not run.", "Llene los espacios con tinta que no se corra."
    ),
    "symbol": Wording(
        "Our drawing of the symbol: {text}. Set it against the one that the law shows.",
        "Dibujo nuestro del símbolo: {text}. Compárelo con el que muestra la ley.",
    ),
    "lacks": Wording(
        "Do not post this page alone. What the law asks for is not printed here: {text}.",
        "No coloque esta página sola. Lo que pide la ley no está impreso aquí: {text}.",
    ),
    "date": Wording("Date:", "Fecha:"),
    "time": Wording("Time:", "Hora:"),
    "take_down": Wording("May be taken down on:", "Puede retirarse el:"),
    "placement": Wording("Where the signs stand", "Dónde van los letreros"),
    "placement-each": Wording(
        "Tick each sign once it stands, and write the time.",
        "Marque cada letrero al colocarlo y anote la hora.",
    ),
    "placement-rule": Wording("Where the law wants it: {text}.", "Dónde lo quiere la ley: {text}."),
    "placement-spacing": Wording(
        "Perimeter {perimeter}; no more than {spacing} apart: {count} signs.",
        "Perímetro {perimeter}; no más de {spacing} entre sí: {count} letreros.",
    ),
    "perimeter-point": Wording("at {distance} along the edge", "a {distance} por el borde"),
    "place": Wording("Place", "Lugar"),
    "stands": Wording("Stands", "Puesto"),
    "posted-at": Wording("Put up at", "Puesto a las"),
    "removed-at": Wording("Taken down at", "Retirado a las"),
    "page": Wording("Page {{page}} of {{pages}}", "Página {{page}} de {{pages}}"),
    "foot": Wording(
        "The label is the law. Help, not legal advice.", "La etiqueta es la ley. Ayuda, no asesoría legal."
    ),
}
