"""The sentences of kind `licence`, and what is wrong with a licence or a supervision."""

from shared.wording import Blanks, Catalogue, Wording, fill

WORDINGS: Catalogue = {
    "licence/met": Wording(
        "The licence is valid on {day}: {licence}.", "La licencia es válida el {day}: {licence}."
    ),
    "licence/supervised": Wording(
        "Worked under {supervisor}, whose licence is valid on {day}.",
        "Trabajó bajo la supervisión de {supervisor}, cuya licencia es válida el {day}.",
    ),
    "licence/over_days": Wording(
        "Can't tell: the work went on from {day} to {last}, and only on one of these days was there a licence "
        "as {by} asks. Say who worked on which day. {mend}",
        "No se puede saber: el trabajo duró del {day} al {last}, y solo en uno de esos días había una licencia "
        "como exige {by}. Diga quién trabajó qué día. {mend}",
    ),
    "licence/not_met": Wording(
        "No licence of the sort asked for ({asked}) is valid on {day}; on the record: {licence}. {own} "
        "{led} {mend}",
        "Ninguna licencia de las pedidas ({asked}) es válida el {day}; en el registro: {licence}. {own} "
        "{led} {mend}",
    ),
    "licence/open": Wording(
        "Can't tell whether this licence serves on {day}: {licence}. {own} {mend}",
        "No se puede saber si esta licencia sirve el {day}: {licence}. {own} {mend}",
    ),
    "licence/not_bound": Wording(
        "No such licence is asked of this person here.", "Aquí no se pide a esta persona una licencia así."
    ),
}

NONE = Wording("none", "ninguna")
ANY_AUTHORITY = Wording("any authority", "cualquier autoridad")
NOTHING = Wording("", "")

_WRONG: Catalogue = {
    "authority": Wording("It is of another authority: {held}.", "Es de otra autoridad: {held}."),
    "authority_open": Wording(
        "It is of an authority elsewhere, and whether it counts here was not read: {held}.",
        "Es de una autoridad de otro lugar, y no se leyó si vale aquí: {held}.",
    ),
    "kind": Wording("It is of another kind: {held}.", "Es de otro tipo: {held}."),
    "kind_open": Wording(
        "Its kind does not say whether it is one of those asked for: {held}.",
        "Su tipo no dice si es una de las pedidas: {held}.",
    ),
    "categories": Wording("It does not name the category.", "No indica la categoría."),
    "supervision": Wording(
        "The supervision was {how}; only this counts: {asked}.",
        "La supervisión fue {how}; solo cuenta esta: {asked}.",
    ),
    "supervisor": Wording(
        "The supervisor's does not serve either ({supervisor}): {licence}.",
        "La de quien supervisó ({supervisor}) tampoco sirve: {licence}.",
    ),
}


def wrong(what: str, blanks: Blanks) -> Wording:
    """What is wrong, with its blanks filled in every language."""
    return Wording(*(fill(_WRONG[what], blanks, language) for language in ("en", "es")))
