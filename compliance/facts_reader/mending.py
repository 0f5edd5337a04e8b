"""What a person does about a member that the record lacks, in one sentence. Pure."""

import re

from shared.wording import Catalogue, Wording

_ENTER = Wording("Enter it.", "Anótelo.")
_OF_THE_FIRM = Wording("Enter it with the firm's data.", "Anótelo en los datos de la empresa.")
_OF_THE_CUSTOMER = Wording("Enter it with the customer's data.", "Anótelo en los datos del cliente.")
_OF_THE_SITE = Wording("Enter it with the site's data.", "Anótelo en los datos del sitio.")
_OF_THE_LABEL = Wording(
    "Read it on the container's label and enter it with the product's data.",
    "Léalo en la etiqueta del envase y anótelo en los datos del producto.",
)
_LICENCE = Wording("Enter the licence as it is printed.", "Anote la licencia como está impresa.")
_LICENCES = Wording(
    "Enter the licence as it is printed, or that there is none.",
    "Anote la licencia como está impresa, o que no hay ninguna.",
)
_WHERE = Wording(
    "The addresses of the two records differ: correct the one that is wrong, or leave out what was elsewhere.",
    "Las direcciones de los dos registros difieren: corrija la que esté mal, u omita lo que fue en otro lugar.",
)
_READING = Wording(
    "Take a reading while the work goes on and enter it; if nobody did, say so in the notes.",
    "Tome una lectura durante el trabajo y anótela; si nadie lo hizo, dígalo en las notas.",
)

_DO: Catalogue = {
    "timing.planned_at": Wording("Enter when it is planned for.", "Anote para cuándo está previsto."),
    "timing.started_at": Wording("Enter when spraying began.", "Anote cuándo empezó la aplicación."),
    "timing.finished_at": Wording("Enter when spraying ended.", "Anote cuándo terminó la aplicación."),
    "timing.recorded_at": Wording(
        "It is set when the record is signed: sign it.", "Se anota al firmar el registro: fírmelo."
    ),
    "timing.pauses.started_at": Wording("Enter when the pause began.", "Anote cuándo empezó la pausa."),
    "timing.pauses.finished_at": Wording("Enter when the pause ended.", "Anote cuándo terminó la pausa."),
    "timing.reentry_at": Wording(
        "Enter from when people may go back in.", "Anote desde cuándo se puede volver a entrar."
    ),
    "record.result": Wording("Say whether it was treated.", "Diga si se trató."),
    "record.why": Wording("Say why it was stood down.", "Diga por qué se suspendió."),
    "targets": Wording("Say what it was treated against.", "Diga contra qué se trató."),
    "site.features": Wording(
        "Enter the drains, water and plants at the site, or that there are none.",
        "Anote los desagües, aguas y plantas del sitio, o que no hay.",
    ),
    "site.indoors": Wording(
        "Say whether it was inside a building.", "Diga si fue dentro de un edificio."
    ),
    "surfaces": Wording("Enter each surface that was treated.", "Anote cada superficie tratada."),
    "surfaces.kind": Wording(
        "Say what it is: roof, walk, drive, wall.", "Diga qué es: tejado, acera, entrada, pared."
    ),
    "surfaces.treated_area": Wording(
        "Measure the treated area and enter it with its unit.",
        "Mida la superficie tratada y anótela con su unidad.",
    ),
    "people": Wording("Enter who did the work.", "Anote quién hizo el trabajo."),
    "people.tasks": Wording("Say what each person did.", "Diga qué hizo cada persona."),
    "people.role": Wording("Say what each person's part was.", "Diga qué papel tuvo cada persona."),
    "people.ppe": Wording(
        "Tick the protective equipment that each person wore.",
        "Marque el equipo de protección que llevó cada persona.",
    ),
    "people.positions": Wording(
        "Say how long each person worked on ground, ladder and roof.",
        "Diga cuánto tiempo trabajó cada persona en suelo, escalera y tejado.",
    ),
    "people.supervised_by": Wording("Say who supervised.", "Diga quién supervisó."),
    "people.supervision": Wording(
        "Say how the supervisor was reached: in sight, on site or by phone.",
        "Diga cómo supervisó: a la vista, en el sitio o por teléfono.",
    ),
    "people.trained_on": Wording(
        "Enter the day of the person's training.", "Anote el día de la formación de la persona."
    ),
    "people.licences": _LICENCES,
    "firm.licences": _LICENCES,
    "mixes": Wording("Enter what was mixed and applied.", "Anote qué se mezcló y aplicó."),
    "mixes.applied": Wording(
        "Enter how much finished mix was applied, with its unit.",
        "Anote cuánta mezcla se aplicó, con su unidad.",
    ),
    "mixes.surfaces": Wording(
        "Say which surfaces this mix went on.", "Diga en qué superficies se aplicó esta mezcla."
    ),
    "mixes.diluent": Wording(
        "Enter how much water went into the mix, with its unit.",
        "Anote cuánta agua llevó la mezcla, con su unidad.",
    ),
    "mixes.left_over": Wording(
        "Enter what was left over and what became of it.", "Anote qué sobró y qué se hizo con ello."
    ),
    "mixes.left_over.surface": Wording(
        "Say on which surface what was left over was sprayed.",
        "Diga en qué superficie se roció lo que sobró.",
    ),
    "mixes.loads": Wording("Enter each load of the tank.", "Anote cada carga del tanque."),
    "mixes.products": Wording("Enter each product in the mix.", "Anote cada producto de la mezcla."),
    "mixes.products.amount": Wording(
        "Enter how much of the product went into the mix, with its unit.",
        "Anote cuánto producto llevó la mezcla, con su unidad.",
    ),
    "mixes.products.lot": Wording(
        "Enter the lot that stands on the container.", "Anote el lote que lleva el envase."
    ),
    "mixes.products.supplier": Wording(
        "Enter who supplied the product.", "Anote quién suministró el producto."
    ),
    "mixes.products.regime": Wording(
        "Enter with the product's data under which law it is sold.",
        "Anote en los datos del producto bajo qué ley se vende.",
    ),
    "mixes.products.restricted_use": Wording(
        "Read on the label whether the product is restricted-use and enter it with the product's data.",
        "Lea en la etiqueta si el producto es de uso restringido y anótelo en los datos del producto.",
    ),
    "equipment.flow": Wording(
        "Measure the rig's flow and enter it.", "Mida el caudal del equipo y anótelo."
    ),
    "equipment.method": Wording("Say what it was sprayed with.", "Diga con qué se aplicó."),
    "weather.readings": _READING,
    "weather.readings.wind_from": Wording(
        "Enter where the wind came from; if nobody looked, say so in the notes.",
        "Anote de dónde venía el viento; si nadie miró, dígalo en las notas.",
    ),
    "weather.forecast": Wording(
        "Look up the forecast and enter until when it stays dry, and whose forecast it is.",
        "Consulte el pronóstico y anote hasta cuándo estará seco, y de quién es.",
    ),
    "protection": Wording(
        "Tick what was done against runoff and drift, or that nothing was.",
        "Marque qué se hizo contra la escorrentía y la deriva, o que no se hizo nada.",
    ),
    "notices": Wording(
        "Enter who was told, when and how, or that nobody was.",
        "Anote a quién se avisó, cuándo y cómo, o que a nadie.",
    ),
    "postings": Wording(
        "Enter each sign that was put up, or that there was none.",
        "Anote cada letrero que se puso, o que no hubo.",
    ),
    "permits": Wording("Enter the permit's number.", "Anote el número del permiso."),
    "context.permits": Wording(
        "Nobody has said which surfaces and days the permit covers: ask the office.",
        "Nadie ha dicho qué superficies y días cubre el permiso: pregunte a la oficina.",
    ),
    "context.neighbours": Wording(
        "Nobody has said who lives next door: ask the office.",
        "Nadie ha dicho quién vive al lado: pregunte a la oficina.",
    ),
    **dict.fromkeys(("context.earlier.surfaces.id", "context.earlier.site.id"), _WHERE),
    "context.earlier.record.result": Wording(
        "Say on that record whether it was treated.", "Diga en ese registro si se trató."
    ),
    "context.follow_ups": Wording(
        "Add a follow-up when it is done.", "Añada una anotación posterior cuando se haga."
    ),
    "firm": _OF_THE_FIRM,
    "customer": _OF_THE_CUSTOMER,
    "site": _OF_THE_SITE,
    **{
        f"{whose}.licences.{name}": _LICENCE
        for whose in ("people", "firm")
        for name in ("authority", "kind", "number", "holder", "categories", "valid_from", "valid_to")
    },
    **{
        f"mixes.products.{name}": _OF_THE_LABEL
        for name in (
            "name", "kind", "registration_number", "signal_word", "active_ingredients", "density", "label",
        )
    },
}  # fmt: skip


def what_to_do(path: str) -> Wording:
    """What to do about a member that is not there, by the nearest of its owners that has a sentence."""
    names = re.sub(r"\[\d+\]", "", path).split(".")
    owners = (".".join(names[:count]) for count in range(len(names), 0, -1))
    return next((_DO[owner] for owner in owners if owner in _DO), _ENTER)
