"""Why what was sealed on a device was not signed, and what a manager should look at where it was."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "not_a_draft": Wording(
        "The treatment was signed, or its record made void, before this came in.",
        "El tratamiento se firmó, o su registro se anuló, antes de que llegara esto.",
    ),
    "differs": Wording(
        "{member}: what stands here is not what was signed on the device. Compare, then sign what is right.",
        "{member}: lo que figura aquí no es lo que se firmó en el dispositivo. Compare y firme lo correcto.",
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
    "clock_far_off": Wording(
        "The clock of the device was more than a day off when this was sent.",
        "El reloj del dispositivo iba más de un día desajustado al enviarse.",
    ),
    "before_the_key": Wording(
        "It says that it was sealed before the key of the device was made.",
        "Dice haberse sellado antes de que se creara la clave del dispositivo.",
    ),
    "before_the_sheet": Wording(
        "It says that it was sealed before the device had what it sealed.",
        "Dice haberse sellado antes de que el dispositivo tuviera lo que selló.",
    ),
    "no_sheet": Wording(
        "Nothing shows that the device had what it sealed at the time that it names.",
        "Nada demuestra que el dispositivo tuviera lo que selló a la hora que indica.",
    ),
    "late": Wording(
        "It came in {hours} hours after it was sealed. Ask why.",
        "Llegó {hours} horas después de sellarse. Pregunte por qué.",
    ),
    "rows_changed": Wording(
        "{member} stands as the device had it; it has changed since.",
        "{member} figura como lo tenía el dispositivo; ha cambiado después.",
    ),
    "revoked_since": Wording(
        "The key of this device has been revoked since. Ask who signed.",
        "La clave de este dispositivo se revocó después. Pregunte quién firmó.",
    ),
    "unanswered": Wording(
        "Required and open, and without a reason: {count}. The device can't ask about all of them.",
        "Exigido y abierto, y sin motivo: {count}. El dispositivo no puede preguntar por todos.",
    ),
    "claim_off_clock": Wording(
        "The record says that it was sealed at {claimed}; the clock of the device then said {clock}. Ask "
        "which is right, and check the times.",
        "El registro dice haberse sellado a las {claimed}; el reloj del dispositivo decía entonces {clock}. "
        "Pregunte qué es lo correcto y revise las horas.",
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
