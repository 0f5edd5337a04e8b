"""The rules of a pack as sheets: everything that a person should know of each, in one language."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.plain_words.conditions import Conditions
from compliance.plain_words.duties import describe
from compliance.plain_words.points import Point
from compliance.plain_words.teller import Teller
from compliance.rulebook.pack import Pack, Source
from compliance.rulebook.rule import Duty, Rule
from shared.timeline import Span, Timeline
from shared.wording import Wording

Json = Mapping[str, Any]
_PACKS_AT_HAND = 100


@dataclass(frozen=True)
class Applies:
    """When a rule applies, and the sentence that says why it does not otherwise."""

    when: Point
    otherwise: str


@dataclass(frozen=True)
class Asked:
    """What a rule asks from a day on (None: as long as it is in force), and the paragraph that says so."""

    since: date | None
    cite: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class RuleSheet:
    """One rule as a page shows it. `expected` are first days of known changes to come."""

    id: str
    anchor: str
    kind: str
    title: str
    reason: str
    level: str
    stage: str
    judges: str
    applies: tuple[Applies, ...]
    asked: tuple[Asked, ...]
    expected: tuple[date, ...]
    span: Span
    cite: str
    source: Source | None
    text: str
    doubt: str
    mend: str


def rule_sheets(pack: Pack, language: str) -> list[RuleSheet]:
    """The rules of a pack, in its order."""
    data = raw_rules(pack)
    questions = {name: question.asks for name, question in pack.questions.items()}
    return [_sheet(rule, pack, data[rule.id], questions, language) for rule in pack.rules]


def _sheet(
    rule: Rule, pack: Pack, raw: tuple[Json, ...], questions: Mapping[str, Wording], language: str
) -> RuleSheet:
    conditions = Conditions(VOCABULARY.roots(rule.judges), questions, language)
    clauses = [part["when"] for part in raw if "when" in part]
    applies = zip(clauses, rule.clauses, strict=True)
    return RuleSheet(
        id=rule.id,
        anchor=rule.id.replace("/", "-"),
        kind=rule.all_duties[0].kind.name,
        title=rule.title.say(language),
        reason=rule.reason.say(language),
        level=rule.level,
        stage=rule.stage,
        judges=rule.judges,
        applies=tuple(
            Applies(conditions.point(when), clause.otherwise.say(language)) for when, clause in applies
        ),
        asked=tuple(_asked(rule, raw[-1], conditions)),
        expected=rule.duties.expected if isinstance(rule.duties, Timeline) else (),
        span=rule.span,
        cite=rule.all_duties[-1].cite,
        source=pack.sources.get(rule.source),
        text=rule.text,
        doubt=rule.doubt.say(language) if rule.doubt else "",
        mend=rule.mend.say(language) if rule.mend else "",
    )


def _asked(rule: Rule, raw: Json, conditions: Conditions) -> Iterator[Asked]:
    if isinstance(rule.duties, Duty):
        yield Asked(None, rule.duties.cite, describe(rule.duties.kind, Teller(raw, conditions)))
        return
    for day, duty in rule.duties.entries:
        laid_over = {**raw, **raw["values"][day.isoformat()]}
        yield Asked(day, duty.cite, describe(duty.kind, Teller(laid_over, conditions)))


def raw_rules(pack: Pack) -> Mapping[str, tuple[Json, ...]]:
    """The data of each rule by its id: that of its file (for its common condition), then its own."""
    return _raw_rules(pack.content)


@lru_cache(maxsize=_PACKS_AT_HAND)
def _raw_rules(content: bytes) -> Mapping[str, tuple[Json, ...]]:
    found: dict[str, tuple[Json, ...]] = {}
    for topic in json.loads(content)["rules"].values():
        common = {key: topic[key] for key in ("when", "otherwise") if key in topic}
        found |= {rule["id"]: (common, rule) for rule in topic["rules"]}
    return found
