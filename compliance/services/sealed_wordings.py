"""Why what was sealed on a device was not signed, and what a manager should look at where it was."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "not_a_draft": Wording(
        "The treatment was signed, or its record made void, before this came in.",
        "El tratamiento se firmó, o su registro se anuló, antes de que llegara esto.",
    ),
    "differs": Wording(
        "{member} is not what was sealed: it was changed elsewhere, or is read in another way here.",
        "{member} no es lo que se selló: se cambió en otro lugar, o aquí se lee de otro modo.",
    ),
    "revoked_before": Wording(
        "The key of this device was revoked before the record was sealed.",
        "La clave de este dispositivo se revocó antes de sellar el registro.",
    ),
    "unread": Wording(
        "The draft holds entries that could not be read.", "El borrador tiene entradas que no se pudieron leer."
    ),
    "implausible_time": Wording(
        "The moment at which it says it was sealed lies before the work, or in the future.",
        "El momento en que dice haberse sellado es anterior al trabajo, o está en el futuro.",
    ),
    "revoked_since": Wording(
        "The key of this device has been revoked since. Ask who signed.",
        "La clave de este dispositivo se revocó después. Pregunte quién firmó.",
    ),
    "unanswered": Wording(
        "Required and open, and not asked for a reason on the device: {count}.",
        "Exigido y abierto, sin que el dispositivo pidiera el motivo: {count}.",
    ),
    "clock_ahead": Wording(
        "The clock of the device was {minutes} minutes ahead when this was sent. Check the times.",
        "El reloj del dispositivo iba {minutes} minutos adelantado al enviarse. Revise las horas.",
    ),
    "clock_behind": Wording(
        "The clock of the device was {minutes} minutes behind when this was sent. Check the times.",
        "El reloj del dispositivo iba {minutes} minutos atrasado al enviarse. Revise las horas.",
    ),
}
