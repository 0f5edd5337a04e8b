"""One rule: who it binds to what, when it is in force, when it applies, and its kind with parameters."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from compliance.rulebook.conditions import Condition, read_condition, roots_of
from compliance.rulebook.errors import RuleError
from compliance.rulebook.kind import Kind
from compliance.rulebook.kinds import KINDS
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, Setting, as_day, as_text, as_wording, one_of
from compliance.rulebook.vocabulary import Vocabulary
from shared.timeline import Span, Timeline
from shared.wording import Wording

LEVELS = ("required", "advised")
STAGES = ("before", "during", "after")
TEXTS = ("found", "restated", "memory")
JUDGES = ("document", "products", "people", "mixes", "surfaces")
_ID = re.compile(r"[a-z0-9-]+(/[a-z0-9-]+)+")
_COMMON = ("from", "until", "mend", "doubt", "judges", "when", "otherwise", "values")


@dataclass(frozen=True, eq=False)
class Clause:
    """A condition under which a rule applies, and the sentence that says why it does not otherwise.

    `of_treatment`: it hangs on the treatment alone, not on the thing that is judged. Rules of one pack that
    state the same share one clause.
    """

    condition: Condition
    otherwise: Wording
    of_treatment: bool


@dataclass(frozen=True)
class Duty:
    """What a rule states at one time: its kind with parameters, and the paragraph that it rests on."""

    kind: Kind
    cite: str


@dataclass(frozen=True)
class Rule:
    """A rule of a pack. `only` narrows it to the subjects at one path (a label's rules bind its product)."""

    id: str
    title: Wording
    reason: Wording
    source: str
    text: str
    doubt: Wording | None
    level: str
    stage: str
    span: Span
    judges: str
    clauses: tuple[Clause, ...]
    mend: Wording | None
    duties: Timeline[Duty] | Duty
    only: str | None = None

    @property
    def dated(self) -> bool:
        """Whether the day decides if the rule is in force, or with which values."""
        return isinstance(self.duties, Timeline) or not self.span.open

    def duty_on(self, day: date) -> Duty | None:
        """What the rule states on that day; None if it is not in force."""
        if not self.span.holds(day):
            return None
        return self.duties.in_force_on(day) if isinstance(self.duties, Timeline) else self.duties

    @property
    def changes(self) -> list[date]:
        """The days on which what it states begins, changes or ends."""
        days = [self.span.start, self.span.until]
        starts = [start for start, _ in self.duties.entries] if isinstance(self.duties, Timeline) else []
        return [day for day in (*days, *starts) if day]

    @property
    def all_duties(self) -> tuple[Duty, ...]:
        """What it states at any time, oldest first."""
        return self.duties.values if isinstance(self.duties, Timeline) else (self.duties,)

    def possible(self) -> frozenset[Outcome]:
        """The outcomes that the rule can give."""
        found = frozenset[Outcome]().union(*(duty.kind.possible() for duty in self.all_duties))
        return found | {Outcome.NOT_APPLICABLE} if self.clauses else found


@dataclass(frozen=True)
class PackSetting:
    """What the rules of one pack are read against."""

    pack: str
    sources: Mapping[str, object]
    questions: Mapping[str, tuple[str, ...]]
    vocabulary: Vocabulary
    archived: bool = False
    clauses: dict[tuple[str, ...], Clause] = field(default_factory=dict)

    def shared(self, params: Params) -> Clause:
        """The clause at these keys, one and the same for all rules that state it. Raises RuleError."""
        clause = read_clause(params)
        judges = "document" if clause.of_treatment else params.setting.judges
        stated = (judges, repr(params.raw["when"]), repr(params.raw["otherwise"]))
        return self.clauses.setdefault(stated, clause)


def read_rule(raw: object, pack: PackSetting, common: tuple[Mapping[str, Any], ...] = ()) -> Rule:
    """A rule from plain data; `common` are the conditions shared by its file. Raises RuleError."""
    params = Params(raw, Setting(pack.vocabulary, "document", pack.questions, pack.archived))
    judges = params.value("judges", one_of(JUDGES)) if params.has("judges") else "document"
    setting = Setting(pack.vocabulary, judges, pack.questions, pack.archived)
    params = Params(raw, setting)
    text = params.value("text", one_of(TEXTS))
    doubt = params.maybe("doubt", as_wording)
    if text == "memory" and doubt is None:
        raise RuleError("rule/doubt_missing", {}, ("text",))
    clauses = [pack.shared(Params(part, setting)) for part in common]
    if params.has("when") or params.has("otherwise"):
        clauses.append(pack.shared(params))
    return Rule(
        id=params.value("id", lambda value: _id(value, pack.pack)),
        title=params.value("title", as_wording),
        reason=params.value("reason", as_wording),
        source=params.value("source", lambda value: _source(value, pack.sources)),
        text=text,
        doubt=doubt,
        level=params.value("level", one_of(LEVELS)),
        stage=params.value("stage", one_of(STAGES)),
        span=read_span(params),
        judges=judges,
        clauses=tuple(clauses),
        mend=params.maybe("mend", as_wording),
        duties=_read_duties(params),
    )


def read_clause(params: Params) -> Clause:
    """`when` and `otherwise`, which belong together. Raises RuleError."""
    condition = params.value("when", lambda value: read_condition(params, value))
    if not params.has("otherwise"):
        raise RuleError("rule/otherwise_missing", {}, ("when",))
    of_thing = params.setting.vocabulary.subjects[params.setting.judges]
    of_treatment = of_thing.keys().isdisjoint(roots_of(params.raw["when"]))
    return Clause(condition, params.value("otherwise", as_wording), of_treatment)


def read_span(params: Params) -> Span:
    """`from` and `until`, both of which may be left out. Raises RuleError."""
    start, until = params.maybe("from", as_day), params.maybe("until", as_day)
    if start and until and until <= start:
        blanks = {"from": start.isoformat(), "until": until.isoformat()}
        raise RuleError("rule/backwards", blanks, ("until",))
    return Span(start, until)


def _read_duties(params: Params) -> Timeline[Duty] | Duty:
    params.value("kind", _kind(params.setting))
    if not params.has("values"):
        return _read_duty(params, params.raw)
    return params.value("values", lambda value: _read_timeline(params, value))


def _read_timeline(params: Params, raw: object) -> Timeline[Duty]:
    values, expected = {}, []
    base = {key: value for key, value in params.raw.items() if key != "values"}
    for key, entry in params.inner(raw).raw.items():
        try:
            day = as_day(key)
            if entry == "expected":
                expected.append(day)
            else:
                values[day] = _read_duty(params, {**base, **params.inner(entry).raw})
        except RuleError as error:
            raise error.within(key) from None
    if not values:
        raise RuleError("rule/no_values", {})
    return Timeline(values, tuple(expected))


def _read_duty(params: Params, raw: Mapping[str, Any]) -> Duty:
    part = Params(raw, params.setting)
    part.read = [*params.read, *_COMMON]
    kind = part.value("kind", _kind(params.setting))
    judges = params.setting.judges
    if judges not in kind.judges:
        blanks = {"what": kind.name, "judges": judges, "allowed": ", ".join(kind.judges)}
        raise RuleError("rule/wrong_subject", blanks, ("kind",))
    duty = Duty(kind.read(part), part.value("cite", as_text))
    part.done()
    return duty


def _kind(setting: Setting) -> Callable[[object], type[Kind]]:
    def read(raw: object) -> type[Kind]:
        name = as_text(raw)
        kind = KINDS.get(name)
        if kind is None:
            raise RuleError("rule/unknown_kind", {"kind": name, "known": ", ".join(KINDS)})
        if kind.retired and not setting.archived:
            raise RuleError("rule/retired_kind", {"kind": name})
        return kind

    return read


def _id(raw: object, pack: str) -> str:
    text = as_text(raw)
    if not _ID.fullmatch(text):
        raise RuleError("rule/bad_id", {"id": text})
    if not text.startswith(f"{pack}/"):
        raise RuleError("rule/foreign_id", {"id": text, "prefix": f"{pack}/"})
    return text


def _source(raw: object, sources: Mapping[str, object]) -> str:
    text = as_text(raw)
    if text not in sources:
        raise RuleError("rule/unknown_source", {"source": text, "known": ", ".join(sorted(sources)) or "-"})
    return text
