"""What a rule in force becomes on a phone's sheet: a limit, a must, or nothing. Pure."""

from collections.abc import Iterator, Mapping
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.label_clause import AS_STATED
from compliance.phone_sheet.conditions import Answers, LeftToServerError, on_the_phone
from compliance.phone_sheet.limits import limit_on_the_phone
from compliance.phone_sheet.musts import must_on_the_phone
from compliance.phone_sheet.sentences import in_languages
from compliance.plain_words.rules import raw_rules
from compliance.rulebook.facts import Facts
from compliance.rulebook.pack import Pack
from compliance.rulebook.standing import Standing
from compliance.said_in import cite_in
from shared.timeline import Timeline
from shared.wording import LANGUAGES

Json = dict[str, Any]


def entries_of(standing: Standing, pack: Pack, facts: Facts) -> Iterator[tuple[str, Json]]:
    """`limits` or `musts`, with the entry."""
    if standing.rule.dated and facts.day is None:
        return
    raw = raw_rules(pack)[standing.rule.id] if pack.content else (AS_STATED, {})
    questions = {question.id: question.answers for question in pack.questions.values()}
    answers = Answers(facts, standing.rule.judges, questions)
    roots = VOCABULARY.roots(standing.rule.judges)
    try:
        when = [on_the_phone(part["when"], roots, answers) for part in raw if "when" in part]
        limit = limit_on_the_phone(standing)
        must = must_on_the_phone(standing, _in_force(standing, raw[-1]), roots, answers)
    except LeftToServerError:
        return
    for name, own in (("limits", limit), ("musts", must)):
        if own is not None:
            yield name, {**_stated(standing), "when": when, **own}


def _in_force(standing: Standing, raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """The rule's data, with the values of the day laid over it."""
    duties = standing.rule.duties
    if not isinstance(duties, Timeline):
        return raw
    since = next(day for day, duty in duties.entries if duty.kind is standing.kind)
    return {**raw, **raw["values"][since.isoformat()]}


def _stated(standing: Standing) -> Json:
    basis = standing.basis
    return {
        "rule": basis.rule,
        "judges": standing.rule.judges,
        "level": basis.level,
        "cite": {language: cite_in(basis.cite, language) for language in LANGUAGES},
        "doubt": in_languages(basis.doubt) if basis.doubt else None,
        "names": basis.layer != "label",
    }
