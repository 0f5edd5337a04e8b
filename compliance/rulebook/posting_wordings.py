"""The sentences of kind `posting`."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "posting/met": Wording(
        "Signs on the record as {by} asks: {count}. {note}",
        "Letreros en el registro como exige {by}: {count}. {note}",
    ),
    "posting/kept": Wording(
        "Signs on the record as {by} asks: {count}. They stay until {until}. {counted} {note}",
        "Letreros en el registro como exige {by}: {count}. Permanecen hasta el {until}. {counted} {note}",
    ),
    "posting/too_few": Wording(
        "Signs on the record: {count}; {by} asks for at least {least} {asked}, {where}. Put them up and "
        "enter where, how large and when. {mend}",
        "Letreros en el registro: {count}; {by} exige al menos {least} {asked}, {where}. Colóquelos y anote "
        "dónde, de qué tamaño y cuándo. {mend}",
    ),
    "posting/small": Wording(
        "The sign at '{where}' is {observed} (width × height); {by} asks for at least {bound}. Put up a "
        "larger one. {mend}",
        "El letrero en '{where}' mide {observed} (ancho × alto); {by} exige al menos {bound}. Coloque uno "
        "más grande. {mend}",
    ),
    "posting/late": Wording(
        "The sign at '{where}' went up {posted}; {by} asks for it {asked}. {mend}",
        "El letrero en '{where}' se colocó el {posted}; {by} lo exige {asked}. {mend}",
    ),
    "posting/removed": Wording(
        "A sign came down {removed}; {by} wants it to stay until {until}. Put it up again, or say "
        "why. {mend}",
        "Se retiró un letrero el {removed}; {by} exige que permanezca hasta el {until}. Vuelva a colocarlo o "
        "explique el motivo. {mend}",
    ),
}
