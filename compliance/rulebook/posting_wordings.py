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
    "posting/gone": Wording(
        "A sign came down {removed}, before the work began ({until}); {by} wants it to stand when the work is "
        "done. Say on the record why none did. {mend}",
        "Se retiró un letrero el {removed}, antes de empezar el trabajo ({until}); {by} exige que esté al "
        "hacer el trabajo. Explique en el registro por qué no hubo ninguno. {mend}",
    ),
    "posting/another": Wording(
        "Can't tell: a sign came down {removed}, before this one went up. One of the times is wrong, or it "
        "was another sign: say which. {mend}",
        "No se puede saber: se retiró un letrero el {removed}, antes de que se colocara este. Una de las horas "
        "es errónea, o era otro letrero: diga cuál. {mend}",
    ),
    "posting/how_long": Wording(
        "Can't tell: a sign came down {removed}, and how long it must stay by {by} was not read. Look it up, "
        "or ask. {mend}",
        "No se puede saber: se retiró un letrero el {removed}, y no se leyó cuánto debe permanecer según {by}. "
        "Búsquelo o pregunte. {mend}",
    ),
    "posting/perhaps": Wording(
        "Can't tell: a sign came down {removed}; by {by} it may have had to stay until {until}, which is in "
        "doubt. Look it up, or ask. {mend}",
        "No se puede saber: se retiró un letrero el {removed}; según {by} quizá debía permanecer hasta el "
        "{until}, lo que está en duda. Búsquelo o pregunte. {mend}",
    ),
}
