"""The words of the customer's papers. What they say of moss, plants and rain is common practice, no source,
unless it is read from the label."""

from compliance.papers.notice.wording import CLOSING
from shared.wording import Catalogue, Wording

BOTH: Catalogue = {
    "place": Wording("Where", "Dónde"),
    "date": Wording("Date", "Fecha"),
    "time": Wording("Time", "Hora"),
    "purpose": Wording("Why", "Para qué"),
    "products": Wording("Products", "Productos"),
    "registration_numbers": Wording("Registration number", "Número de registro"),
    "active_ingredients": Wording("Active ingredient", "Ingrediente activo"),
    "label-says": Wording("From the label of {product}: {text}", "De la etiqueta de {product}: {text}"),
    "call": Wording("Who to call", "A quién llamar"),
    **{name: CLOSING[name] for name in ("questions", "ill", "ill-elsewhere", "follow-label")},
}

BEFORE: Catalogue = {
    "before": Wording("Before we come", "Antes de que vayamos"),
    "happens": Wording("What will happen", "Qué vamos a hacer"),
    "ready": Wording("How to get ready", "Cómo prepararse"),
    "protect": Wording("What we protect", "Qué protegemos"),
    "on-the-day": Wording("On the day", "Ese día"),
    "happens-spray": Wording(
        "We spray with low pressure. We do not scrape or use a strong jet.",
        "Rociamos a baja presión. No raspamos ni usamos un chorro fuerte.",
    ),
    "happens-roof": Wording(
        "On the roof we wet the moss well. Some drops may fall off the edge.",
        "En el tejado mojamos bien el musgo. Pueden caer gotas por el borde.",
    ),
    "happens-ground": Wording(
        "On the ground we wet the stone. Stay off it until we say so.",
        "En el suelo mojamos la piedra. No la pise hasta que le avisemos.",
    ),
    "happens-lawn": Wording(
        "On the lawn we wet the grass. Stay off it until we say so.",
        "En el césped mojamos la hierba. No la pise hasta que le avisemos.",
    ),
    "happens-wall": Wording(
        "On walls and fences we spray from the bottom up. Please stay back.",
        "En paredes y cercas rociamos de abajo hacia arriba. No se acerque, por favor.",
    ),
    "ready-cars": Wording(
        "Move cars and bikes away from the house and the drive.",
        "Aleje autos y bicicletas de la casa y de la entrada.",
    ),
    "ready-toys": Wording(
        "Bring in toys, cushions and garden chairs.", "Guarde juguetes, cojines y sillas de jardín."
    ),
    "ready-pets": Wording(
        "Keep pets and children inside while we work. Bring in pet bowls.",
        "Tenga adentro a mascotas y niños mientras trabajamos. Guarde los platos de las mascotas.",
    ),
    "ready-windows": Wording(
        "Close all windows, doors and roof lights.", "Cierre ventanas, puertas y tragaluces."
    ),
    "ready-laundry": Wording("Take laundry off the line.", "Quite la ropa del tendedero."),
    "ready-water": Wording(
        "Leave us the outside tap. We need water for the plants.",
        "Déjenos la llave de agua de afuera. Necesitamos agua para las plantas.",
    ),
    "pond": Wording(
        "We cover your pond. Turn off its pump until we take the cover off.",
        "Cubrimos su estanque. Apague la bomba hasta que quitemos la cubierta.",
    ),
    "rain-barrel": Wording(
        "We take your rain barrel off the downspout. Leave it off until we say so.",
        "Desconectamos su barril de lluvia de la bajante. Déjelo así hasta que le avisemos.",
    ),
    "downspout": Wording(
        "We lead the water from your downspouts away from drains and ponds.",
        "Desviamos el agua de sus bajantes para que no llegue a desagües ni estanques.",
    ),
    "storm-drain": Wording("We cover the storm drains nearby.", "Cubrimos los desagües pluviales cercanos."),
    "planting-bed": Wording(
        "We wet your plants before and rinse them after.",
        "Mojamos sus plantas antes y las enjuagamos después.",
    ),
    "vegetable-garden": Wording(
        "Pick what is ripe in your garden before we come. We cover the rest.",
        "Coseche lo maduro de su huerto antes de que vayamos. Cubrimos el resto.",
    ),
    "beehive": Wording(
        "Tell the beekeeper. We need to know when the bees fly.",
        "Avise al apicultor. Necesitamos saber cuándo vuelan las abejas.",
    ),
    "animal-area": Wording(
        "Take animals out of their yard. Cover their food and water.",
        "Saque a los animales de su corral. Tape su comida y su agua.",
    ),
    "play-area": Wording(
        "Take toys off the play area. Nobody plays there until we say so.",
        "Quite los juguetes de la zona de juegos. Nadie juega allí hasta que le avisemos.",
    ),
    "air-intake": Wording(
        "Turn off fans and air units that draw air from outside.",
        "Apague ventiladores y aparatos que toman aire de afuera.",
    ),
    "well": Wording("Show us your well. We keep away from it.", "Muéstrenos su pozo. No nos acercamos a él."),
    "weather": Wording(
        "We do not spray in wind or rain. Then we call you and set a new day.",
        "No rociamos con viento ni lluvia. En ese caso le llamamos y fijamos otro día.",
    ),
    "talk": Wording(
        "We ring the bell before we start, and again when we are done.",
        "Tocamos el timbre antes de empezar y otra vez al terminar.",
    ),
}

AFTER: Catalogue = {
    "after": Wording("After our visit", "Después de nuestra visita"),
    "stood-down": Wording("We did not spray today", "Hoy no rociamos"),
    "why": Wording("Reason", "Motivo"),
    "new-day": Wording("We will call you to set a new day.", "Le llamaremos para fijar otro día."),
    "record": Wording("Record number", "Número de registro"),
    "work": Wording("Work", "Trabajo"),
    "work-span": Wording("{start} to {end}", "{start} a {end}"),
    "surfaces": Wording("What we treated", "Qué tratamos"),
    "reentry": Wording("Stay off until", "No pase hasta"),
    "until-dry": Wording("all is dry", "que todo esté seco"),
    "now": Wording("Today", "Hoy"),
    "weeks": Wording("In the next weeks", "En las próximas semanas"),
    "copy": Wording("Your record", "Su registro"),
    "wet": Wording(
        "Keep children and pets off what is wet.", "Mantenga a niños y mascotas lejos de lo que esté mojado."
    ),
    "rain-label": Wording(
        "It should stay dry for {length} after the work: the label of {product} says so.",
        "Debe seguir seco {length} después del trabajo: así lo dice la etiqueta de {product}.",
    ),
    "rain": Wording("Do not water or hose what we treated today.", "No riegue ni lave hoy lo que tratamos."),
    "back": Wording(
        "Leave covers and downspouts as they are until we come back, or call us.",
        "Deje las cubiertas y bajantes como están hasta que volvamos, o llámenos.",
    ),
    "moss": Wording(
        "Moss turns brown or white in days or weeks. Wind and rain take it off over some months.",
        "El musgo se pone marrón o blanco en días o semanas. El viento y la lluvia lo quitan en unos meses.",
    ),
    "algae": Wording(
        "Green algae fade in days. Dark stains may take longer.",
        "Las algas verdes se aclaran en días. Las manchas oscuras pueden tardar más.",
    ),
    "lichen": Wording(
        "Lichen lets go slowly. It may take a year.", "El liquen se suelta despacio. Puede tardar un año."
    ),
    "scrape": Wording(
        "Do not scrape the roof or use a strong jet on it.",
        "No raspe el tejado ni use un chorro fuerte sobre él.",
    ),
    "plants": Wording(
        "Look at your plants for two weeks. If leaves turn brown, water them well and call us.",
        "Mire sus plantas durante dos semanas. Si las hojas se ponen marrones, riéguelas bien y llámenos.",
    ),
    "copy-given": Wording(
        "You may have a copy of the record of this work. Ask us for it.",
        "Usted puede tener una copia del registro de este trabajo. Pídanosla.",
    ),
}

WORDS: Catalogue = {**BOTH, **BEFORE, **AFTER}
