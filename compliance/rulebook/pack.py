"""A rule pack: one authority's duties as dated data, with sources, questions and what it leaves out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from compliance.rulebook.errors import RuleError
from compliance.rulebook.incident_reports import IncidentReport, read_incident_report
from compliance.rulebook.official_forms import OfficialForm, read_form
from compliance.rulebook.plain import plain
from compliance.rulebook.reading import Params, Setting, as_day, as_list, as_text, as_wording, each, one_of
from compliance.rulebook.reminders import Reminder, read_reminder
from compliance.rulebook.rule import PackSetting, Rule, read_rule, read_span
from compliance.rulebook.standing import Timetable
from compliance.rulebook.vocabulary import Vocabulary
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.timeline import Span
from shared.wording import Sayable, Wording

ANYWHERE = "any"
"""The place of a pack that applies to every record (its layer is `record`); it covers no place's law."""


@dataclass(frozen=True)
class Source:
    """A text that rules rest on: its citation, its title and what part of it was read."""

    cite: str
    title: str
    read: str


@dataclass(frozen=True)
class Question:
    """An open question: the product never decides it for a firm."""

    id: str
    asks: Wording
    hangs_on_it: Wording
    ask_whom: Wording
    answers: tuple[str, ...]


@dataclass(frozen=True)
class Pack:
    """One authority's rules. `by` is who allows and asks in a sentence; None: the paragraph cited.

    `in_part`: it states so little of its place's law that the place does not count as covered. `layer` is
    law, label, firm or record. `content` is the canonical form of the data that it was read from,
    `digest` the digest of it.
    """

    id: str
    version: str
    digest: str
    place: str
    layer: str
    title: Wording
    caution: Wording
    rules: tuple[Rule, ...]
    by: Sayable | None = None
    in_part: bool = False
    span: Span = field(default_factory=Span)
    authority: Wording | None = None
    reviewed_on: date | None = None
    by_means: str | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)
    questions: Mapping[str, Question] = field(default_factory=dict)
    reminders: tuple[Reminder, ...] = ()
    incidents: tuple[IncidentReport, ...] = ()
    forms: tuple[OfficialForm, ...] = ()
    leaves_out: tuple[Wording, ...] = ()
    content: bytes = field(default=b"", repr=False)

    @cached_property
    def timetable(self) -> Timetable:
        """Its rules as they stand on any day."""
        return Timetable(self.id, self.layer, self.by, self.rules)


def read_pack(
    raw: object, topics: Mapping[str, Any], vocabulary: Vocabulary, layer: str = "law", archived: bool = False
) -> Pack:
    """A pack from plain data: `raw` is pack.yaml, `topics` the rule files by name. In an `archived` one kinds
    may stand that are retired now. Raises RuleError, whose place begins with `pack.yaml` or
    `rules/<topic>.yaml`."""
    setting = Setting(vocabulary, "document", {})
    try:
        params = Params(raw, setting)
        head = _read_head(params)
        params.done()
    except RuleError as error:
        raise error.within("pack.yaml") from None
    questions = {question.id: question.answers for question in head["questions"].values()}
    against = PackSetting(head["id"], head["sources"], questions, vocabulary, archived)
    rules: dict[str, Rule] = {}
    for topic in sorted(topics):
        try:
            _read_topic(Params(topics[topic], setting), against, rules)
        except RuleError as error:
            raise error.within(f"rules/{topic}.yaml") from None
    by = Wording("your firm's policy", "la política de su empresa") if layer == "firm" else None
    data = canonical_bytes({"pack": plain(raw), "rules": plain(topics)})
    layer = "record" if head["place"] == ANYWHERE else layer
    return Pack(layer=layer, rules=tuple(rules.values()), by=by, digest=digest(data), content=data, **head)


def _read_head(params: Params) -> dict[str, Any]:
    pack = params.value("pack", as_text)
    reviewed = params.value("reviewed", lambda raw: _read_reviewed(params.inner(raw)))
    return {
        "id": pack,
        "version": params.value("version", as_text),
        "place": params.value("place", as_text),
        "in_part": params.maybe("in_part", one_of(("yes",))) is not None,
        "span": read_span(params),
        "authority": params.value("authority", as_wording),
        "title": params.value("title", as_wording),
        "caution": params.value("caution", as_wording),
        "reviewed_on": reviewed[0],
        "by_means": reviewed[1],
        "sources": params.value("sources", lambda raw: _by_name(params, raw, _read_source)),
        "questions": params.maybe("questions", lambda raw: _read_questions(params, raw, pack)) or {},
        "reminders": params.maybe("reminders", each(lambda raw: read_reminder(params.inner(raw)))) or (),
        "incidents": params.maybe("incidents", each(lambda raw: read_incident_report(params.inner(raw)))) or (),
        "forms": params.maybe("forms", each(lambda raw: read_form(params.inner(raw)))) or (),
        "leaves_out": params.maybe("leaves_out", each(as_wording)) or (),
    }


def _read_topic(params: Params, against: PackSetting, rules: dict[str, Rule]) -> None:
    common = {key: params.raw[key] for key in ("when", "otherwise") if params.has(key)}
    for place, raw in enumerate(params.value("rules", as_list)):
        try:
            rule = read_rule(raw, against, (common,) if common else ())
            if rule.id in rules:
                raise RuleError("rule/repeated_id", {"id": rule.id}, ("id",))
        except RuleError as error:
            raise error.within("rules", place) from None
        rules[rule.id] = rule
    params.done()


def _by_name(params: Params, raw: object, reader: Any) -> dict[str, Any]:
    found = {}
    for name, value in params.inner(raw).raw.items():
        try:
            found[str(name)] = reader(params.inner(value))
        except RuleError as error:
            raise error.within(name) from None
    return found


def _read_source(part: Params) -> Source:
    source = Source(part.value("cite", as_text), part.value("title", as_text), part.value("read", as_text))
    part.done()
    return source


def _read_questions(params: Params, raw: object, pack: str) -> dict[str, Question]:
    for name in params.inner(raw).raw:
        if not name.startswith(f"{pack}/"):
            raise RuleError("rule/foreign_id", {"id": name, "prefix": f"{pack}/"}, (name,))
    return {
        name: Question(id=name, **fields)
        for name, fields in sorted(_by_name(params, raw, _question_fields).items())
    }


def _question_fields(part: Params) -> dict[str, Any]:
    fields: dict[str, Any] = {
        name: part.value(name, as_wording) for name in ("asks", "hangs_on_it", "ask_whom")
    }
    fields["answers"] = part.value("answers", each(as_text))
    part.done()
    return fields


def _read_reviewed(part: Params) -> tuple[date, str]:
    reviewed = part.value("on", as_day), part.value("by_means", one_of(("read", "memory", "mixed")))
    part.done()
    return reviewed
