"""Judges packs over facts. Pure: the same packs and facts always give the same findings."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from compliance.rulebook.conditions import Verdict
from compliance.rulebook.facts import Branch, Facts, Paths, Scope, Subject
from compliance.rulebook.finding import Finding
from compliance.rulebook.kind import Judgement, Limited, Listed, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Duty, Rule
from compliance.rulebook.vocabulary import Vocabulary
from compliance.rulebook.wordings import BLANKS, Sentence
from shared.wording import Blank, Wording

_DUE_FROM = {"before": ("started", "finished"), "during": ("finished",), "after": ("finished",)}
_NOTHING = Wording("", "")


@dataclass(frozen=True)
class InForce:
    """A limit that binds one thing: by which rule of which pack."""

    subject: str
    limited: Limited
    rule: Rule
    pack: Pack
    cite: str


@dataclass(frozen=True)
class Judged:
    """What came of one rule: its findings, and the limits that it sets."""

    findings: tuple[Finding, ...]
    limits: tuple[InForce, ...]


@dataclass(frozen=True)
class Court:
    """What every rule is judged with."""

    facts: Facts
    vocabulary: Vocabulary

    def judge(self, packs: Iterable[Pack]) -> Judged:
        """All rules of all packs, in the order outcome, pack, rule, members."""
        judged = [self.judge_rule(rule, pack) for pack in packs for rule in pack.rules]
        findings = [finding for one in judged for finding in one.findings]
        limits = tuple(limit for one in judged for limit in one.limits)
        return Judged(tuple(sorted(findings, key=lambda finding: finding.place)), limits)

    def judge_rule(self, rule: Rule, pack: Pack) -> Judged:
        """One rule over all things that it judges; no finding if it is not in force that day."""
        facts = self.facts
        duty = rule.duty_on(facts.day) if facts.day else rule.all_duties[-1]
        if duty is None:
            return Judged((), ())
        case = _Case(self, rule, duty, pack)
        subjects = facts.subjects[rule.judges]
        chosen = [one for one in subjects.subjects if rule.only is None or one.path == rule.only]
        if not chosen:
            return Judged((case.finding(case.nothing(subjects.lacks), None, rule.level),), ())
        return Judged(tuple(case.findings(chosen)), tuple(case.limits(chosen)))


@dataclass(frozen=True)
class _Case:
    court: Court
    rule: Rule
    duty: Duty
    pack: Pack

    def findings(self, subjects: list[Subject]) -> Iterator[Finding]:
        for subject in subjects:
            judgements, level = self.judgements(Scope(self.court.facts, subject))
            for judgement in judgements:
                yield self.finding(judgement, subject, level)

    def limits(self, subjects: list[Subject]) -> Iterator[InForce]:
        for subject in subjects:
            applies = self.applies(Scope(self.court.facts, subject))
            if not isinstance(applies, Judgement) and applies is None:
                for limited in self.duty.kind.limits():
                    yield InForce(subject.path, limited, self.rule, self.pack, self.duty.cite)

    def judgements(self, scope: Scope) -> tuple[tuple[Judgement, ...], str]:
        """The outcomes for one thing and the level at which they stand."""
        barrier = self.applies(scope)
        if barrier is None:
            return self.duty.kind.judge_each(scope), self.rule.level
        level = "advised" if barrier.wording == "question/open" else self.rule.level
        if barrier.outcome is Outcome.CANT_TELL and not self.duty.kind.judging:
            barrier = Judgement(Outcome.NOT_APPLICABLE, barrier.wording, barrier.about, barrier.blanks)
        return (barrier,), level

    def applies(self, scope: Scope) -> Judgement | None:
        """None if the rule applies; else why it does not, or why that can't be told."""
        if scope.facts.day is None and self.rule.dated:
            return missing(scope.facts.day_lacks)
        unknown: Verdict | None = None
        for clause in self.rule.clauses:
            verdict = clause.condition(scope)
            if verdict.truth is False:
                blanks: dict[str, Blank] = {"otherwise": clause.otherwise}
                return Judgement(Outcome.NOT_APPLICABLE, "does_not_apply", _once(verdict.about), blanks)
            if verdict.truth is None:
                unknown = unknown or verdict
        if unknown is None:
            return None
        if unknown.questions and not unknown.lacks:
            asks = tuple(self.pack.questions[question].asks for question in _once(unknown.questions))
            return Judgement(Outcome.CANT_TELL, "question/open", unknown.about, {"asks": Listed(asks)})
        return missing(unknown.lacks)

    def nothing(self, lacks: Paths) -> Judgement:
        """The outcome if there is nothing of the sort that the rule judges, though (`lacks`) there should be.

        The rule's conditions are asked of a thing of which nothing is stated: what does not hang on the
        thing still decides.
        """
        if not lacks:
            return Judgement(Outcome.NOT_APPLICABLE, "nothing_to_judge", ())
        roots = self.court.vocabulary.subjects[self.rule.judges]
        unstated = Subject("", {root: Branch(lacks[0], {}) for root in roots}, lambda quantity, unit: ())
        barrier = self.applies(Scope(self.court.facts, unstated))
        if barrier is None:
            return self.duty.kind.judge_nothing(lacks)
        if barrier.outcome is Outcome.CANT_TELL:
            return missing(lacks)
        about = (lacks[0] if path.startswith(f"{lacks[0]}.") else path for path in barrier.about)
        return replace(barrier, about=_once(tuple(about)))

    def finding(self, judgement: Judgement, subject: Subject | None, level: str) -> Finding:
        rule, outcome, said = self.rule, judgement.outcome, self.said(judgement, subject)
        if judgement.absence and self.court.facts.stage not in _DUE_FROM[rule.stage]:
            outcome, said = Outcome.NOT_APPLICABLE, Sentence("to_do", {"what": said})
        return Finding(
            rule=rule.id,
            pack=self.pack.id,
            title=rule.title,
            outcome=outcome,
            level=level,
            layer=self.pack.layer,
            stage=rule.stage,
            cite=self.duty.cite,
            text=rule.text,
            doubt=rule.doubt,
            about=judgement.about,
            observed=judgement.observed,
            bound=judgement.bound,
            due=judgement.due,
            keep_until=judgement.keep_until,
            message=said,
        )

    def said(self, judgement: Judgement, subject: Subject | None) -> Sentence:
        """The sentence, with the blanks that it uses."""
        blanks = {name: self.blank(name, judgement) for name in BLANKS[judgement.wording]}
        whose = subject.name if subject and self.pack.layer != "label" else ""
        return Sentence(judgement.wording, blanks, whose)

    def blank(self, name: str, judgement: Judgement) -> Blank:
        """What fills a blank: the kind's own word, or what the engine adds for every kind."""
        if name in judgement.blanks:
            return judgement.blanks[name]
        if name == "by":
            return self.pack.by or self.duty.cite
        if name == "mend":
            return self.rule.mend or judgement.mend or _NOTHING
        return Listed(tuple(self.court.vocabulary.label(path) for path in judgement.about))


def _once(paths: Paths) -> Paths:
    return tuple(dict.fromkeys(paths))
