"""What to do now, by the kind of incident, before anybody is asked anything. Pure.

First aid as the US agency's page on pesticide exposure and first-aid statements of labels give it (stored
copy of 2017 of epa.gov/pesticide-incidents; "15-20 minutes" from such a statement). Spills as a State
extension's page on spill emergencies tells it: protect yourself, stop the source, keep others away, contain,
stay there. The rest, as that a burst hose is let down before it is touched: common practice, no source.
"""

from collections.abc import Mapping

from shared.wording import Wording

ALWAYS: tuple[Wording, ...] = (
    Wording("Stop the pump.", "Pare la bomba."),
    Wording(
        "Is somebody hurt, or did they get it on them? Help them first, and call.",
        "¿Hay alguien herido, o le cayó producto? Ayúdele primero y llame.",
    ),
    Wording("Keep people and animals away.", "No deje acercarse a personas ni animales."),
    Wording(
        "Put on what the label asks for before you touch anything.",
        "Póngase lo que pide la etiqueta antes de tocar nada.",
    ),
)
LABEL_FIRST = Wording(
    "The label and the safety data sheet come first: do what they say.",
    "La etiqueta y la hoja de seguridad van primero: haga lo que dicen.",
)

FIRST_STEPS: Mapping[str, tuple[Wording, ...]] = {
    "spill": (
        Wording(
            "Stop the source if it is safe: close the valve, set the container upright.",
            "Detenga la fuga si es seguro: cierre la válvula, ponga el envase de pie.",
        ),
        Wording(
            "Cover drains. Ring the spill with sand, soil or cat litter, from the low side.",
            "Tape los desagües. Rodee el derrame con arena, tierra o arena para gatos, desde el lado bajo.",
        ),
        Wording("Do not hose it away.", "No lo lave con la manguera."),
        Wording(
            "Soak it up, and put all of it in a container that you label.",
            "Absórbalo y póngalo todo en un recipiente con etiqueta.",
        ),
        Wording(
            "Did it reach a drain, a ditch or water? Call the number below now.",
            "¿Llegó a un desagüe, una zanja o al agua? Llame ya al número de abajo.",
        ),
        Wording("Stay there until it is safe.", "Quédese ahí hasta que no haya peligro."),
    ),
    "drift": (
        Wording("Stop spraying. Do not start again in this wind.", "Deje de rociar. No siga con este viento."),
        Wording(
            "Tell those it reached. They go inside and wash off what is on them.",
            "Avise a quienes alcanzó. Que entren y se laven lo que les cayó.",
        ),
        Wording(
            "Rinse plants, toys, water bowls and cars that it reached, unless the label says otherwise.",
            "Enjuague plantas, juguetes, bebederos y autos alcanzados, salvo que la etiqueta diga otra cosa.",
        ),
        Wording(
            "Read the wind now, and write down where it blew to.",
            "Mida ahora el viento y anote hacia dónde soplaba.",
        ),
        Wording("Take photos of how far it went.", "Tome fotos de hasta dónde llegó."),
    ),
    "exposure": (
        Wording(
            "Not awake, in a fit, or short of breath: call the ambulance now.",
            "Inconsciente, con convulsiones o sin aire: llame ya a la ambulancia.",
        ),
        Wording(
            "In the eye: hold it open and rinse gently with water for 15 to 20 minutes. "
            "Take contact lenses out after 5, then rinse on.",
            "En el ojo: manténgalo abierto y enjuague suavemente con agua de 15 a 20 minutos. "
            "Quite los lentes de contacto a los 5 y siga.",
        ),
        Wording(
            "On the skin: take off wet clothes and rinse with plenty of water for 15 to 20 minutes.",
            "En la piel: quite la ropa mojada y enjuague con mucha agua de 15 a 20 minutos.",
        ),
        Wording("Breathed in: bring them into fresh air.", "Inhalado: llévelo al aire fresco."),
        Wording(
            "Swallowed: call the poison line. Make nobody vomit unless they tell you to.",
            "Tragado: llame al centro de intoxicaciones. No provoque el vómito si no se lo indican.",
        ),
        Wording("Have the label in your hand when you call.", "Tenga la etiqueta en la mano al llamar."),
    ),
    "property-damage": (
        Wording("Stop the work. Make the place safe.", "Pare el trabajo. Asegure el lugar."),
        Wording(
            "Rinse off what landed where it should not, unless the label says otherwise.",
            "Enjuague lo que cayó donde no debía, salvo que la etiqueta diga otra cosa.",
        ),
        Wording("Take photos before anything is moved.", "Tome fotos antes de mover nada."),
        Wording("Tell the customer, and your manager.", "Avise al cliente y a su encargado."),
    ),
    "complaint": (
        Wording(
            "Listen. Write down their words, who they are and how to reach them.",
            "Escuche. Anote sus palabras, quién es y cómo localizarle.",
        ),
        Wording(
            "Does somebody feel ill? Give them the poison line, and offer to call.",
            "¿Alguien se siente mal? Déle el número del centro de intoxicaciones y ofrezca llamar.",
        ),
        Wording(
            "Promise nothing and admit nothing. Say who calls back, and when.",
            "No prometa ni admita nada. Diga quién llamará y cuándo.",
        ),
        Wording("Look at what they show you, and take photos.", "Mire lo que le muestran y tome fotos."),
    ),
    "equipment-failure": (
        Wording(
            "Shut the engine and the valve. Let the pressure down before you touch a hose.",
            "Apague el motor y cierre la válvula. Quite la presión antes de tocar una manguera.",
        ),
        Wording(
            "Did product get out? Do what is said for a spill.",
            "¿Salió producto? Haga lo que se dice para un derrame.",
        ),
        Wording(
            "Near electric lines: stay away, and keep others away.",
            "Cerca de líneas eléctricas: aléjese y aleje a los demás.",
        ),
        Wording("Do not use the rig until it is mended.", "No use el equipo hasta que esté reparado."),
    ),
}
