"""The words of a notice, in the order in which it uses them: short sentences, plain words."""

from shared.wording import Catalogue, Wording

OPENING: Catalogue = {
    "title": Wording("Notice of a pesticide treatment", "Aviso de un tratamiento con pesticida"),
    "title-off": Wording("The treatment will not take place", "El tratamiento no se hará"),
    "title-changed": Wording("Change to a pesticide treatment", "Cambio en un tratamiento con pesticida"),
    "replaces": Wording(
        "This notice replaces our last one, for {date}.", "Este aviso reemplaza el anterior, del {date}."
    ),
    "on-again": Wording(
        "We told you that the treatment of {date} was off. It is on again, for {day}.",
        "Le avisamos que el tratamiento del {date} no se haría. Ahora sí se hará, el {day}.",
    ),
    "subject": Wording("{title}: {date}, {place}", "{title}: {date}, {place}"),
    "dear": Wording("Dear {name}:", "Hola, {name}:"),
    "dear-customer": Wording("Dear customer:", "Hola:"),
    "dear-occupant": Wording("To the people who live here:", "A quienes viven aquí:"),
    "dear-neighbour": Wording("Dear neighbor:", "Hola, vecino:"),
    "dear-registered-person": Wording("Dear neighbor:", "Hola, vecino:"),
    "dear-agency": Wording("To the office in charge:", "A la oficina encargada:"),
    "dear-school": Wording("To the school:", "A la escuela:"),
    "open-customer": Wording(
        "We will treat your property. This notice says when, where and with what.",
        "Vamos a tratar su propiedad. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-occupant": Wording(
        "We will treat the outside of the place where you live. This notice says when, where and with what.",
        "Vamos a tratar el exterior del lugar donde usted vive. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-neighbour": Wording(
        "We will use a pesticide near you. This notice says when, where and with what.",
        "Usaremos un pesticida cerca de usted. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-registered-person": Wording(
        "You asked to be told when a pesticide is used near you. This notice says when, where and with what.",
        "Usted pidió que le avisen cuando se use un pesticida cerca. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-agency": Wording(
        "We will use a pesticide at the place below. This notice says when, where and with what.",
        "Vamos a usar un pesticida en el lugar indicado abajo. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-school": Wording(
        "We will use a pesticide at the place below. This notice says when, where and with what.",
        "Vamos a usar un pesticida en el lugar indicado abajo. Este aviso dice cuándo, dónde y con qué.",
    ),
    "open-off": Wording(
        "We told you of a treatment. It will not take place on the day below. "
        "We will tell you if we plan a new day.",
        "Le avisamos de un tratamiento. No se hará el día indicado abajo. Le avisaremos si fijamos otro día.",
    ),
}

LABELS: Catalogue = {
    "place": Wording("Where", "Dónde"),
    "date": Wording("Date", "Fecha"),
    "alternates": Wording("Other dates, if the weather is bad", "Otras fechas, si hace mal tiempo"),
    "time": Wording("Time", "Hora"),
    "products": Wording("Products", "Productos"),
    "registration_numbers": Wording("Registration number", "Número de registro"),
    "registration_numbers-us": Wording("EPA registration number", "Número de registro de la EPA"),
    "active_ingredients": Wording("Active ingredient", "Ingrediente activo"),
    "purpose": Wording("Why", "Para qué"),
    "precautions": Wording("What to do, from the label", "Qué hacer, según la etiqueta"),
    "reentry": Wording("Stay out until", "No entre hasta"),
    "label_warnings": Wording("Warnings on the label", "Advertencias de la etiqueta"),
    "label": Wording("Copy of each label (to be enclosed)", "Copia de cada etiqueta (se adjunta)"),
    "firm": Wording("Who does the work", "Quién hace el trabajo"),
    "applicator": Wording("Who sprays", "Quién aplica"),
    "licence": Wording("License number", "Número de licencia"),
    "contact": Wording("Who to call", "A quién llamar"),
    "poison_line": Wording("Poison center", "Centro de intoxicaciones"),
    "cost": Wording("Total cost", "Costo total"),
    "ask_for_dates": Wording("Exact dates", "Fechas exactas"),
    "registry": Wording("The State's list", "La lista del Estado"),
    "statement": Wording("Statement", "Declaración"),
}

ANSWERS: Catalogue = {
    "between": Wording("between {start} and {end}", "entre las {start} y las {end}"),
    "about": Wording("about {start}", "a eso de las {start}"),
    "against": Wording("against {targets} on: {surfaces}", "contra {targets} en: {surfaces}"),
    "against-all": Wording("against {targets}", "contra {targets}"),
    "of-product": Wording("{product}: {text}", "{product}: {text}"),
    "stay-out": Wording("{length} after the work ends", "{length} después de terminar el trabajo"),
    "until-dry": Wording(
        "The label sets no time. Stay off until all is dry.",
        "La etiqueta no fija un tiempo. No pase hasta que todo esté seco.",
    ),
    "the-firm": Wording("the firm", "la empresa"),
    "signal": Wording("signal word {word}", "palabra de advertencia {word}"),
    "ask-for-dates": Wording("You may ask us for the exact dates.", "Usted puede pedirnos las fechas exactas."),
    "registry-kept": Wording(
        "The State keeps a list of people who want to be told before a pesticide is used near them. "
        "Its pesticide office tells you how to get on it.",
        "El Estado lleva una lista de personas que quieren aviso antes de que se use un pesticida cerca. "
        "Su oficina de pesticidas le dice cómo inscribirse.",
    ),
}

CLOSING: Catalogue = {
    "care": Wording(
        "Please close your windows. Keep children and pets away from the spray. "
        "Bring in toys, laundry and pet bowls.",
        "Cierre las ventanas, por favor. Mantenga lejos a niños y mascotas. "
        "Guarde juguetes, ropa y platos de mascotas.",
    ),
    "ill": Wording(
        "If someone feels ill from it, call the poison center at {number}. If it is bad, call {emergency}.",
        "Si alguien se siente mal por esto, llame al centro de intoxicaciones: {number}. "
        "Si es grave, llame al {emergency}.",
    ),
    "ill-elsewhere": Wording(
        "If someone feels ill from it, call a doctor. If it is bad, call {emergency}.",
        "Si alguien se siente mal por esto, llame a un médico. Si es grave, llame al {emergency}.",
    ),
    "follow-label": Wording(
        "The product label is the law. We follow it.",
        "La etiqueta del producto es la ley. Nosotros la cumplimos.",
    ),
    "questions": Wording("Questions? Call us at {phone}.", "¿Preguntas? Llámenos al {phone}."),
    "by": Wording("{firm}", "{firm}"),
}

SCRIPT: Catalogue = {
    "script": Wording("What to say on the phone", "Qué decir por teléfono"),
    "script-hello": Wording(
        "Hello, this is {firm}. Am I speaking with {name}?", "Hola, le llamo de {firm}. ¿Hablo con {name}?"
    ),
    "script-hello-none": Wording("Hello, this is {firm}.", "Hola, le llamo de {firm}."),
    "script-why": Wording(
        "I am calling to tell you of a pesticide treatment.",
        "Le llamo para avisarle de un tratamiento con pesticida.",
    ),
    "script-read": Wording("Read each line out loud:", "Lea cada línea en voz alta:"),
    "script-end": Wording(
        "Do you have any questions? You can call us at {phone}.",
        "¿Tiene alguna pregunta? Puede llamarnos al {phone}.",
    ),
    "script-note": Wording("Write down who you spoke with, and when.", "Anote con quién habló y a qué hora."),
}

FURNITURE: Catalogue = {
    "page": Wording("Page {number}", "Página {number}"),
    "author": Wording("Notice", "Aviso"),
    "cut": Wording("Cut here", "Corte aquí"),
}

WORDS: Catalogue = {**OPENING, **LABELS, **ANSWERS, **CLOSING, **SCRIPT, **FURNITURE}
