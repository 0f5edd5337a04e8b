"""The sentences of kind `deadline`."""

from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "deadline/met": Wording("Done {done}, in time (due {due}).", "Hecho el {done}, a tiempo (plazo: {due})."),
    "deadline/late": Wording(
        "Done {done}; {by} wanted it by {due}. {mend}",
        "Hecho el {done}; {by} lo exigía a más tardar el {due}. {mend}",
    ),
    "deadline/before_the_end": Wording(
        "Recorded {done}, before the work ended ({ended}): a record of then cannot state how it ended. {mend}",
        "Se anotó el {done}, antes de acabar el trabajo ({ended}): un registro de entonces no puede decir "
        "cómo acabó. {mend}",
    ),
    "deadline/too_early": Wording(
        "Can't tell: done {done}, before what it follows ({ended}), so that it can't be this. {mend}",
        "No se puede saber: hecho el {done}, antes de lo que sigue ({ended}), así que no puede ser esto. "
        "{mend}",
    ),
    "deadline/over_days": Wording(
        "Can't tell: done {done}; the work went over midnight, and by {by} it was due by {due} if its "
        "first day counts, by {last} if its last does. {mend}",
        "No se puede saber: hecho el {done}; el trabajo pasó de medianoche, y según {by} vencía el {due} "
        "si cuenta su primer día, el {last} si cuenta el último. {mend}",
    ),
    "deadline/not_yet_due": Wording(
        "Not yet due: do it by {due}.", "Aún no vence: hágalo a más tardar el {due}."
    ),
    "deadline/not_done": Wording(
        "Not done; {by} wanted it by {due}. {mend}",
        "No se ha hecho; {by} lo exigía a más tardar el {due}. {mend}",
    ),
}
