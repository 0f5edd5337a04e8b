"""The sentences that say what each kind of rule asks."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "record": Wording("The record states:", "El registro indica:"),
    "ask/every": Wording("for each of {list}: {words}", "para cada elemento de {list}: {words}"),
    "ask/some": Wording(
        "for at least one of {list}: {words}", "para al menos un elemento de {list}: {words}"
    ),
    "ask/where": Wording("Of those alone of which this is so:", "Solo de los que cumplen esto:"),
    "ask/unless": Wording("Not asked for, if this is so:", "No se pide, si es así:"),
    "ask/only": Wording("Asked for only, if this is so:", "Se pide solo, si es así:"),
    "limit": Wording("{quantity}: {bounds}.", "{quantity}: {bounds}."),
    "limit/last": Wording("The last reading counts.", "Cuenta la última lectura."),
    "limit/every": Wording("Every reading counts.", "Cuentan todas las lecturas."),
    "licence/person": Wording(
        "The person has a licence that is valid on the day of the treatment.",
        "La persona tiene una licencia válida el día del tratamiento.",
    ),
    "licence/firm": Wording(
        "The firm has a licence that is valid on the day of the treatment.",
        "La empresa tiene una licencia válida el día del tratamiento.",
    ),
    "licence/authorities": Wording("Issued by: {which}.", "Emitida por: {which}."),
    "licence/kinds": Wording("Kind of licence: {which}.", "Clase de licencia: {which}."),
    "licence/categories": Wording("Category: {which}.", "Categoría: {which}."),
    "licence/not_kinds": Wording("Not of this kind: {which}.", "No de esta clase: {which}."),
    "licence/not_categories": Wording("Not with the category: {which}.", "No con la categoría: {which}."),
    "licence/also": Wording("One of this sort will do, too:", "También vale una de este tipo:"),
    "licence/leaves_open": Wording(
        "Another kind, or an authority elsewhere, leaves it open.",
        "Otra clase, o una autoridad de otro lugar, lo deja abierto.",
    ),
    "licence/apprentices": Wording(
        "One of this sort serves only under somebody who has a full one:",
        "Una de este tipo vale solo bajo alguien que tenga una completa:",
    ),
    "licence/ways": Wording("How that person supervises: {which}.", "Cómo supervisa esa persona: {which}."),
    "licence/only": Wording("Asked for only, if this is so:", "Se pide solo, si es así:"),
    "licence/supervised": Wording(
        "Or works under somebody who has one, who is {which}.",
        "O trabaja bajo la supervisión de alguien que la tiene: {which}.",
    ),
    "interval/between": Wording(
        "Between two treatments of a surface with the same product: {bounds}.",
        "Entre dos tratamientos de una superficie con el mismo producto: {bounds}.",
    ),
    "interval/season": Wording(
        "Only from {first} to {last} (month and day, both included).",
        "Solo del {first} al {last} (mes y día, ambos inclusive).",
    ),
    "interval/hours": Wording(
        "Work starts and ends between {first} and {last}, local time.",
        "El trabajo empieza y termina entre las {first} y las {last}, hora local.",
    ),
    "deadline": Wording(
        "{what}: within {length} of this: {after}.", "{what}: en un plazo de {length} desde: {after}."
    ),
    "deadline/same_day": Wording(
        "{what}: on the same day as this: {after}.", "{what}: el mismo día que: {after}."
    ),
    "retention": Wording(
        "Keep the record for {years} years from this: {after}.",
        "Guarde el registro {years} años desde: {after}.",
    ),
    "report/month": Wording(
        "A report for each month to {to}, due on day {day} of the next month.",
        "Un informe de cada mes para {to}, con plazo hasta el día {day} del mes siguiente.",
    ),
    "report/year": Wording(
        "A report for each calendar year to {to}, due on {day} (month and day) of the next year.",
        "Un informe de cada año natural para {to}, con plazo hasta el {day} (mes y día) del año siguiente.",
    ),
    "report/nil": Wording(
        "Also due for a period without work.", "También se debe por un periodo sin trabajos."
    ),
    "report/fields": Wording("It states:", "Indica:"),
    "protection/any": Wording(
        "At least one of these steps is taken:", "Se toma al menos una de estas medidas:"
    ),
    "protection/all": Wording("These steps are taken:", "Se toman estas medidas:"),
    "protection/features": Wording(
        "Called for where the site has: {which}.", "Se pide donde el sitio tiene: {which}."
    ),
    "protection/surfaces": Wording(
        "Called for where this is treated: {which}.", "Se pide donde se trata: {which}."
    ),
    "permission/regimes": Wording("For a product sold as: {which}.", "Para un producto vendido como: {which}."),
    "permission/surfaces": Wording("On: {which}.", "En: {which}."),
    "permission/may_be": Wording(
        "Of these it can't be told whether they are meant: {which}.",
        "De esto no se puede saber si está incluido: {which}.",
    ),
    "permission/barred": Wording("Barred: do not treat it.", "Prohibido: no lo trate."),
    "permission/permit": Wording(
        "Only with a permit of {authority}, or of an authority there, that covers the surface on the day: its "
        "number stands on the record.",
        "Solo con un permiso de {authority}, o de una autoridad de allí, que cubra la superficie ese día: su "
        "número consta en el registro.",
    ),
    "surfaces/only_on": Wording("Treat only: {which}.", "Trate solo: {which}."),
    "surfaces/not_on": Wording("Do not treat: {which}.", "No trate: {which}."),
    "ppe": Wording("Who mixes or sprays wears:", "Quien mezcla o rocía lleva:"),
    "cumulative": Wording(
        "{quantity}, this treatment counted: {bounds}.", "{quantity}, contado este tratamiento: {bounds}."
    ),
    "agreement/figures": Wording(
        "These figures go together within {tolerance}: {figures}.",
        "Estas cifras concuerdan con un margen del {tolerance}: {figures}.",
    ),
    "agreement/never": Wording("This must not be so at once:", "Esto no puede darse a la vez:"),
    "validity": Wording(
        "The day of the treatment is not before this: {start}; and not after this: {end}.",
        "El día del tratamiento no es anterior a: {start}; ni posterior a: {end}.",
    ),
    "targets": Wording(
        "What is treated is among these: {which}.", "Lo que se trata está entre esto: {which}."
    ),
    "notice/person": Wording("Told: {whom}.", "Se avisa a: {whom}."),
    "notice/whom": Wording("Only those of whom this is so:", "Solo aquellos de quienes es así:"),
    "notice/perhaps": Wording(
        "Perhaps those of whom this is so; the record can't show whether they must be told:",
        "Quizá aquellos de quienes es así; el registro no muestra si hay que avisarles:",
    ),
    "notice/when": Wording("When: {lead}.", "Cuándo: {lead}."),
    "notice/earliest": Wording(
        "Not longer than {length} before the start.", "No más de {length} antes del inicio."
    ),
    "notice/valid": Wording(
        "It holds for {length} from the time that it states.", "Vale {length} desde la hora que indica."
    ),
    "notice/alternates": Wording(
        "It holds for the day that it states and at most {count} alternate days.",
        "Vale para el día que indica y como máximo {count} días alternativos.",
    ),
    "notice/stated_day": Wording(
        "It holds for the day that it states only.", "Vale solo para el día que indica."
    ),
    "notice/all_alternates": Wording(
        "It names {count} alternate days, different ones and after the day on which it is given.",
        "Nombra {count} días alternativos, distintos y posteriores al día en que se da.",
    ),
    "notice/its_day": Wording(
        "The work is on a day that it names.", "El trabajo es en un día que el aviso nombra."
    ),
    "notice/means": Wording("By: {which}.", "Por: {which}."),
    "notice/languages": Wording("In {which}.", "En {which}."),
    "notice/on_request": Wording("Due to whoever asks for it.", "Se debe a quien lo pide."),
    "notice/contents": Wording("The notice says:", "El aviso dice:"),
    "posting": Wording("Signs at the site, at least: {count}.", "Letreros en el sitio, al menos: {count}."),
    "posting/place": Wording("Where: {where}.", "Dónde: {where}."),
    "posting/size": Wording("Size, at least: {size}.", "Tamaño, al menos: {size}."),
    "posting/spacing": Wording("No further apart than {length}.", "A no más de {length} entre sí."),
    "posting/kept": Wording(
        "They stay for {length} after the end of the work.", "Permanecen {length} tras el final del trabajo."
    ),
    "posting/kept_from_posting": Wording(
        "They stay for {length} from when they are put up, at the earliest from the start of the work.",
        "Permanecen {length} desde que se colocan, y no antes del inicio del trabajo.",
    ),
    "posting/kept_for_the_work": Wording(
        "They stay until the end of the work.", "Permanecen hasta el final del trabajo."
    ),
    "posting/in_doubt": Wording(
        "How long they stay is in doubt: whether one came down too soon can't be told.",
        "Cuánto permanecen está en duda: no se puede saber si uno se retiró antes de tiempo.",
    ),
    "posting/or_reentry": Wording(
        "If people must stay out for longer, they stay as long.",
        "Si no se debe entrar por más tiempo, permanecen ese tiempo.",
    ),
    "posting/sign": Wording("The sign says:", "El letrero dice:"),
    "posting/filled_in": Wording("(filled in) {words}", "(se rellena) {words}"),
}
