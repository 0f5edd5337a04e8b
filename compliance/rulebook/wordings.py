"""Every sentence that a finding can be worded with: those of the engine and those of each kind."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from compliance.rulebook.kinds import KINDS
from shared.wording import Blank, Blanks, Catalogue, Wording, fill

_ENGINE: Catalogue = {
    "missing": Wording(
        "Not filled in: {members}. {mend}",
        "Sin anotar: {members}. {mend}",
    ),
    "do_not_meet": Wording(
        "{members}: {why}, so this cannot be told. Look at them again and enter what is right.",
        "{members}: {why}, así que esto no se puede saber. Revíselo y anote lo correcto.",
    ),
    "entered_as_none": Wording(
        "Entered as none: {members}. Look at the label once more and enter what it names.",
        "Anotado como ninguno: {members}. Mire de nuevo la etiqueta y anote lo que nombra.",
    ),
    "gust_above_wind": Wording(
        "A gust of {observed} lay above {bound}, the most that {by} allows for the wind; it sets none for "
        "gusts. {mend}",
        "Una ráfaga de {observed} superó {bound}, lo máximo que {by} permite para el viento; para ráfagas no "
        "fija nada. {mend}",
    ),
    "gusts_within": Wording(
        "No gust lay above {bound}, the most that {by} allows for the wind; the strongest was {observed}.",
        "Ninguna ráfaga superó {bound}, lo máximo que {by} permite para el viento; la más fuerte fue "
        "{observed}.",
    ),
    "does_not_apply": Wording("{otherwise}", "{otherwise}"),
    "nothing_to_judge": Wording(
        "There is nothing here that this is about.", "Aquí no hay nada de lo que trate."
    ),
    "no_pack": Wording(
        "There is no rule pack for {place}: its law was not checked.",
        "No hay paquete de reglas para {place}: su ley no se ha comprobado.",
    ),
    "no_pack_then": Wording(
        "There is no rule pack for {place} for that day: its law was not checked. The pack holds from {day} "
        "on.",
        "No hay paquete de reglas para {place} en ese día: su ley no se ha comprobado. El paquete vale desde "
        "el {day}.",
    ),
    "in_part": Wording(
        "Only a part of the law of {place} was checked, which gives no all-clear.",
        "Solo se ha comprobado una parte de la ley de {place}: no basta para dar nada por bueno.",
    ),
    "reminder": Wording(
        "Not shown by a record: {says} ({cite})", "No lo muestra un registro: {says} ({cite})"
    ),
    "question/open": Wording(
        "Your firm has not answered an open question yet: {asks}",
        "Su empresa aún no ha respondido a una pregunta abierta: {asks}",
    ),
    "to_do": Wording("Still to do. {what}", "Por hacer. {what}"),
    "no_lawful_value": Wording(
        "{quantity}: {min_by} asks for at least {min}, {max_by} allows {max} only. No value is lawful: do "
        "not start.",
        "{quantity}: {min_by} exige al menos {min}, {max_by} solo permite {max}. Ningún valor es lícito: no "
        "empiece.",
    ),
    "nobody_sprayed": Wording(
        "Something was applied, and nobody is on record as having sprayed: licences and protective equipment "
        "could not be judged. Tick 'sprayed' for who did.",
        "Se aplicó algo y nadie consta como quien pulverizó: no se pudieron juzgar licencias ni equipo de "
        "protección. Marque «pulverizó» en quien lo hizo.",
    ),
    "place_of_address": Wording(
        "The address lies in {place}, which the list of jurisdictions does not name: the rules of that place "
        "were not asked.",
        "La dirección está en {place}, que la lista de jurisdicciones no nombra: no se consultaron las "
        "reglas de ese lugar.",
    ),
    "no_state": Wording(
        "The list of jurisdictions names no state or province of {country}: the rules of the one that the "
        "site lies in were not asked.",
        "La lista de jurisdicciones no nombra ningún estado o provincia de {country}: no se consultaron las "
        "reglas del que corresponde al sitio.",
    ),
    "county_not_named": Wording(
        "The site lies in {county}; the list of jurisdictions names no county or city: local rules were not "
        "asked.",
        "El sitio está en {county}; la lista de jurisdicciones no nombra condado ni ciudad: no se "
        "consultaron reglas locales.",
    ),
    "places_missing": Wording(
        "Which law applies is open, because this is not stated: {members}.",
        "Está abierto qué ley se aplica, porque no consta: {members}.",
    ),
}

WORDINGS: Catalogue = {
    **_ENGINE,
    **{key: said for kind in KINDS.values() for key, said in kind.wordings.items()},
}

BLANKS: Mapping[str, tuple[str, ...]] = {
    wording_id: tuple(sorted(wording.blank_names("en"))) for wording_id, wording in WORDINGS.items()
}
"""The names of the blanks of each sentence."""


@dataclass(frozen=True)
class Sentence:
    """A sentence of a finding, filled when it is said; `whose` names the person or product before it."""

    wording: str
    blanks: Blanks = field(default_factory=dict[str, Blank])
    whose: str = ""

    def say(self, language: str) -> str:
        """The sentence: blanks that are empty leave no double space, and it begins with a capital."""
        text = re.sub(r"\s+", " ", fill(WORDINGS[self.wording], self.blanks, language)).strip()
        said = text[:1].upper() + text[1:]
        return f"{self.whose}: {said}" if self.whose else said
