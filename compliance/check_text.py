"""A check as text for a person: what is wrong first, and always what was not checked."""

from collections.abc import Iterator

from compliance.check import Check
from compliance.limit_words import set_by
from compliance.rulebook.bounds import Bounds
from compliance.rulebook.finding import Finding
from compliance.rulebook.limits import LimitInForce
from compliance.rulebook.outcome import Outcome
from compliance.said_in import cite_in
from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "not_met": Wording("Not met", "No se cumple"),
    "cant_tell": Wording("Can't tell", "No se puede saber"),
    "met": Wording("Met", "Se cumple"),
    "not_applicable": Wording("Doesn't apply", "No se aplica"),
    "required": Wording("required", "obligatorio"),
    "advised": Wording("advised", "recomendado"),
    "memory": Wording("the text of this rule is from memory", "el texto de esta regla es de memoria"),
    "outcome": Wording("Outcome of what was checked", "Resultado de lo comprobado"),
    "limits": Wording("Limits in force", "Límites en vigor"),
    "not_checked": Wording("Not checked", "No se ha comprobado"),
    "questions": Wording("Open questions for your firm", "Preguntas abiertas para su empresa"),
    "caution": Wording(
        "This is help, not legal advice and no approval. The label is the law; local codes and licensed "
        "practice come first.",
        "Esto es una ayuda, no asesoramiento legal ni una aprobación. La etiqueta es la ley; prevalecen las "
        "normas locales y la práctica autorizada.",
    ),
}


def check_text(check: Check, language: str) -> str:
    """The whole check, line by line."""
    return "\n".join(_lines(check, language)) + "\n"


def _lines(check: Check, language: str) -> Iterator[str]:
    yield f"{_say('outcome', language)}: {_say(check.outcome, language)}"
    for pack in check.packs:
        yield f"  {pack.title.say(language)} ({pack.id} {pack.version}). {pack.caution.say(language)}"
    for outcome in Outcome:
        chosen = [finding for finding in check.findings if finding.outcome is outcome]
        if chosen:
            yield f"\n{_say(outcome, language)} ({len(chosen)})"
            for finding in chosen:
                yield from _finding(finding, language)
                yield from (f"    {answer.say(language)}" for answer in check.hangs_on(finding))
    if check.limits:
        yield f"\n{_say('limits', language)}"
        yield from (_limit(limit, language) for limit in check.limits)
    if check.questions:
        yield f"\n{_say('questions', language)}"
        for question in check.questions:
            yield f"  - {question.asks.say(language)} ({question.ask_whom.say(language)})"
    if check.not_checked:
        yield f"\n{_say('not_checked', language)}"
        yield from (f"  - {said.say(language)}" for said in check.not_checked)
    yield f"\n{_say('caution', language)}"


def _finding(finding: Finding, language: str) -> Iterator[str]:
    yield f"  - {finding.message.say(language)}"
    cite = cite_in(finding.cite, language)
    notes = [finding.title.say(language), cite, _say(finding.level, language), finding.rule]
    if finding.text == "memory":
        notes.append(_say("memory", language))
    yield f"    [{'; '.join(notes)}]"
    if finding.about:
        yield f"    {', '.join(finding.about)}"


def _limit(limit: LimitInForce, language: str) -> str:
    said = Bounds(limit.min, limit.max).say(language)
    bound_thing = f" ({limit.subject})" if limit.subject else ""
    return f"  - {limit.quantity}{bound_thing}: {said} [{set_by(limit.as_json(), language)}]"


def _say(wording_id: str, language: str) -> str:
    return WORDINGS[wording_id].say(language)
