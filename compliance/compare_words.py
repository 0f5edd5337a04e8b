"""How the difference between two checks is said: its sentences, and what fills them. Pure."""

from collections.abc import Mapping
from typing import Any

from compliance.limit_words import quantity_words
from compliance.said_in import cite_in, text_in
from compliance.stored_sizes import stored_size
from shared.wording import Blank, Catalogue, Sayable, Wording, fill

Json = Mapping[str, Any]

WORDINGS: Catalogue = {
    "came": Wording(
        "{title} ({cite}), not found before: {after}. {message}",
        "{title} ({cite}), antes no se comprobaba: {after}. {message}",
    ),
    "went": Wording(
        "{title} ({cite}), not found any more; it was: {before}.",
        "{title} ({cite}), ya no se comprueba; antes: {before}.",
    ),
    "outcome": Wording(
        "{title} ({cite}): {before} before, {after} now. {message}",
        "{title} ({cite}): antes, {before}; ahora, {after}. {message}",
    ),
    "level": Wording(
        "{title} ({cite}): {before} before, {after} now.", "{title} ({cite}): antes {before}, ahora {after}."
    ),
    "bound": Wording(
        "{title} ({cite}): the bound was {before}, now it is {after}.",
        "{title} ({cite}): el límite era {before}; ahora es {after}.",
    ),
    "observed": Wording(
        "{title} ({cite}): {before} was read from the record before, {after} now.",
        "{title} ({cite}): antes se leía {before} en el registro; ahora, {after}.",
    ),
    "due": Wording(
        "{title} ({cite}): it was due {before}, now {after}.",
        "{title} ({cite}): el plazo era {before}; ahora es {after}.",
    ),
    "keep_until": Wording(
        "{title} ({cite}): it was to be kept until {before}, now until {after}.",
        "{title} ({cite}): debía guardarse hasta {before}; ahora, hasta {after}.",
    ),
    "cite": Wording(
        "{title} rests on {after}; before, on {before}.", "{title} se apoya en {after}; antes, en {before}."
    ),
    "whole": Wording(
        "The whole: {before} before, {after} now.", "El conjunto: antes, {before}; ahora, {after}."
    ),
    "pack_came": Wording(
        "{title}, {after}, was not among the rules before.",
        "{title}, {after}, no estaba antes entre las reglas.",
    ),
    "pack_went": Wording(
        "{title}, {before}, is not among the rules any more.",
        "{title}, {before}, ya no está entre las reglas.",
    ),
    "pack": Wording(
        "{title}: version {before} before, {after} now.",
        "{title}: antes la versión {before}, ahora la {after}.",
    ),
    "limit_came": Wording(
        "{quantity}: a limit that was not there before, {after}.",
        "{quantity}: un límite que antes no estaba, {after}.",
    ),
    "limit_went": Wording(
        "{quantity}: a limit that is not there any more, {before}.",
        "{quantity}: un límite que ya no está, {before}.",
    ),
    "limit": Wording(
        "{quantity}: {before} before, {after} now.", "{quantity}: antes, {before}; ahora, {after}."
    ),
    "limit_by": Wording(
        "{quantity}: {before} before, {after} now.", "{quantity}: antes, {before}; ahora, {after}."
    ),
    "place_came": Wording(
        "No rule pack covers {after}; one did before.", "Ningún paquete de reglas cubre {after}; antes sí."
    ),
    "place_went": Wording(
        "A rule pack covers {before}; none did before.", "Un paquete de reglas cubre {before}; antes ninguno."
    ),
    "question_came": Wording("Now an open question: {after}", "Ahora es una pregunta abierta: {after}"),
    "question_went": Wording("No open question any more: {before}", "Ya no es una pregunta abierta: {before}"),
    "answer_came": Wording("New: {after}", "Nuevo: {after}"),
    "answer_went": Wording("Holds no longer: {before}", "Ya no vale: {before}"),
    "answer": Wording("Before: {before} Now: {after}", "Antes: {before} Ahora: {after}"),
    "document": Wording(
        "The two checks are of two versions of the record.",
        "Las dos comprobaciones son de dos versiones del registro.",
    ),
    "context": Wording(
        "What was known around the record (earlier treatments, follow-ups, answers) differs.",
        "Difiere lo que se sabía en torno al registro (tratamientos anteriores, seguimientos, respuestas).",
    ),
    "on": Wording(
        "The day of the check: {before} before, {after} now.",
        "Día de la comprobación: {before}; ahora, {after}.",
    ),
    "engine": Wording(
        "The engine that reads the rules: {before} before, {after} now.",
        "El motor que lee las reglas: antes {before}, ahora {after}.",
    ),
}

WORDS: Catalogue = {
    "not_met": Wording("not met", "no se cumple"),
    "cant_tell": Wording("can't tell", "no se puede saber"),
    "met": Wording("met", "se cumple"),
    "not_applicable": Wording("doesn't apply", "no se aplica"),
    "required": Wording("required", "obligatorio"),
    "advised": Wording("advised", "recomendado"),
    "none": Wording("none", "ninguno"),
    "set_by": Wording("{bound} ({cite})", "{bound} ({cite})"),
    "of": Wording("{quantity} ({thing})", "{quantity} ({thing})"),
    "same": Wording("The two checks say the same.", "Las dos comprobaciones dicen lo mismo."),
}


def version(pack: Json, with_digest: bool) -> str:
    """The version of a stored pack, with its digest where the version alone says nothing."""
    return f"{pack['version']} ({pack['digest']})" if with_digest else str(pack["version"])


def limited(limit: Json) -> Sayable:
    """What a limit bounds: the quantity, and of which thing."""
    quantity = quantity_words(limit["quantity"])
    return _filled("of", quantity=quantity, thing=limit["for"]) if limit["for"] else quantity


def limit(limit: Json) -> Sayable:
    """The bounds of a limit and the paragraph that sets them."""
    bound = said({"min": limit["min"], "max": limit["max"]})
    return _filled("set_by", bound=bound, cite=cited(limit["set_by"]["cite"]))


def cited(cite: str) -> Wording:
    """A citation as it is said in each language."""
    return Wording(cite_in(cite, "en"), cite_in(cite, "es"))


def of(finding: Json, member: str) -> Sayable:
    """What a stored finding holds under a member, in words."""
    if member == "cite":
        return cited(finding["cite"])
    value = finding[member]
    if member in ("observed", "bound") and isinstance(value, str):
        return Wording(text_in(finding, member, "en"), text_in(finding, member, "es"))
    return said(value)


def said(value: Any) -> Sayable:
    """A stored value in words: an outcome or level, a quantity, bounds, other text, or that there is none."""
    if value is None:
        return WORDS["none"]
    if isinstance(value, Mapping):
        return stored_size(value) if "unit" in value else _bounds(value)
    return word(str(value))


def _bounds(value: Json) -> Wording:
    least = {"en": "at least", "es": "al menos"}
    most = {"en": "at most", "es": "como máximo"}
    sides = [(words, said(value[side])) for side, words in (("min", least), ("max", most)) if value[side]]
    return Wording(*(", ".join(f"{words[each]} {side.say(each)}" for words, side in sides) for each in most))


def word(word: str) -> Wording:
    """An outcome or level as a person says it; other text as it stands."""
    return WORDS.get(word) or _same(word)


def _same(text: str) -> Wording:
    return Wording(text, text)


def wording(said: Json) -> Wording:
    """A sentence that was stored in both languages."""
    return Wording(said["en"], said["es"])


def _filled(wording_id: str, **blanks: Blank) -> Wording:
    return Wording(*(fill(WORDS[wording_id], blanks, language) for language in ("en", "es")))
