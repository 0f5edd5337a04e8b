"""The firm's own answers to open questions: which a check rests on, which rules hang on each. Pure."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

from compliance.rulebook.finding import in_all_languages
from compliance.rulebook.pack import Pack, Question
from records.document.context import Context, Determination
from shared.wording import Catalogue, Wording, fill

Json = dict[str, Any]
PACKS_AT_HAND = 500

WORDINGS: Catalogue = {
    "hangs": Wording(
        "This hangs on your firm's own answer to an open question. {asks} {answer} ({by}{advice}{days}).",
        "Esto depende de la respuesta de su propia empresa a una pregunta abierta. {asks} {answer} "
        "({by}{advice}{days}).",
    ),
    "nobody": Wording("no name given", "sin nombre"),
    "advice": Wording("; on advice: {advice}", "; con asesoramiento: {advice}"),
    "from": Wording("; from {day}", "; desde {day}"),
    "to": Wording("; until {day}, that day included", "; hasta {day}, inclusive"),
}


@dataclass(frozen=True)
class Determined:
    """An open question with the firm's answer in force on the day of the treatment, and what hangs on it."""

    question: Question
    answer: Determination
    rules: frozenset[str]

    def say(self, language: str) -> str:
        """The sentence that stands with every finding which hangs on the answer."""
        answer = self.answer
        days = (("from", answer.valid_from), ("to", answer.valid_to))
        blanks = {
            "asks": self.question.asks.say(language),
            "answer": answer.answer or "",
            "by": answer.by or WORDINGS["nobody"].say(language),
            "advice": fill(WORDINGS["advice"], {"advice": answer.advice}, language) if answer.advice else "",
            "days": "".join(fill(WORDINGS[name], {"day": day}, language) for name, day in days if day),
        }
        return fill(WORDINGS["hangs"], blanks, language)

    def stored(self) -> Json:
        """The answer as a stored check keeps it."""
        return {
            "question": self.question.id,
            "answer": self.answer.answer,
            "by": self.answer.by,
            "advice": self.answer.advice,
            "valid_from": self.answer.valid_from,
            "valid_to": self.answer.valid_to,
            "rules": sorted(self.rules),
            "says": in_all_languages(self),
        }


def determined(laws: Iterable[Pack], context: Context, day: date | None) -> tuple[Determined, ...]:
    """The questions of these packs that the firm has answered for that day (none if it is unknown).

    The first answer in the context that holds is the one that the rules read.
    """
    found = []
    for pack in laws if day else ():
        for question in pack.questions.values():
            answer = _answer(context.determinations or (), question.id, str(day))
            if answer is not None:
                found.append(
                    Determined(question, answer, rules_by_question(pack).get(question.id, frozenset()))
                )
    return tuple(found)


def _answer(given: Sequence[Determination], question: str, day: str) -> Determination | None:
    for one in given:
        holds = (one.valid_from or day) <= day <= (one.valid_to or day)
        if one.question == question and one.answer is not None and holds:
            return one
    return None


def rules_by_question(pack: Pack) -> Mapping[str, frozenset[str]]:
    """For each question of a pack the ids of the rules whose conditions ask it."""
    return _rules_by_question(pack.content)


@lru_cache(maxsize=PACKS_AT_HAND)
def _rules_by_question(content: bytes) -> Mapping[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for topic in json.loads(content)["rules"].values() if content else ():
        shared = set(_asked(topic.get("when")))
        for rule in topic["rules"]:
            for question in shared | set(_asked(rule)):
                found.setdefault(question, set()).add(rule["id"])
    return {question: frozenset(rules) for question, rules in found.items()}


def _asked(value: object) -> Iterable[str]:
    """Every `question` within a condition."""
    if isinstance(value, Mapping):
        for key, part in value.items():
            yield from [part] if key == "question" and isinstance(part, str) else _asked(part)
    elif isinstance(value, list):
        for part in value:
            yield from _asked(part)
