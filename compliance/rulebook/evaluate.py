"""Judges packs over facts. Pure: the same packs and facts always give the same findings."""

from collections.abc import Container, Iterable
from operator import attrgetter

from compliance.rulebook.conditions import Verdict
from compliance.rulebook.facts import Branch, Facts, Paths, Scope, Subject
from compliance.rulebook.finding import Finding
from compliance.rulebook.kind import Judgement, Listed, missing
from compliance.rulebook.limit_bound import Bound
from compliance.rulebook.ordering import in_order
from compliance.rulebook.outcome import NOT_APPLICABLE, Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Clause
from compliance.rulebook.standing import Standing
from compliance.rulebook.vocabulary import Vocabulary
from shared.values import Value

_NOT_ASKED = Judgement(Outcome.CANT_TELL, "", ())
_members = attrgetter("judgement.about")
_DUE_FROM = {"before": ("started", "finished"), "during": ("finished",), "after": ("finished",)}


class Judged(Value, frozen=True):
    """What came of the rules: findings in order, and the bounds that were set, as they stand in their packs,
    each with the path of what it binds; and the paths of the treatment's products."""

    findings: list[Finding]
    limits: list[tuple[str, Bound]]
    products: tuple[str, ...]


def judge(packs: Iterable[Pack], facts: Facts, vocabulary: Vocabulary) -> Judged:
    """All rules of all packs that are in force on the day of the treatment."""
    court = _Court(facts, vocabulary)
    for pack in packs:
        court.take_up(pack)
        for standing in pack.timetable.on(facts.day):
            court.judge_rule(standing, pack)
    products = tuple(subject.path for subject in facts.subjects["products"].subjects)
    return Judged(court.in_order(), court.limits, products)


class Asked(Value, frozen=True):
    """A rule in force with the scope in which it is judged, and (`barrier`) why it does not apply there, or why
    that can't be told."""

    standing: Standing
    scope: Scope
    barrier: Judgement | None


def asked(packs: Iterable[Pack], facts: Facts, vocabulary: Vocabulary, kinds: Container[str]) -> list[Asked]:
    """The rules of these kinds that are in force, for each thing that they judge."""
    court = _Court(facts, vocabulary)
    return [
        Asked(standing, scope, court.barrier(standing, scope, pack))
        for pack in packs
        for standing in pack.timetable.on(facts.day)
        if standing.kind.name in kinds
        for scope in court.scopes(standing)
    ]


class _Court:
    """What the rules are judged with, and what has come of them so far.

    A condition that hangs on the treatment alone is asked once, however many rules and things share it; and
    what all conditions of a rule come to stands for every rule that has the same ones.
    """

    def __init__(self, facts: Facts, vocabulary: Vocabulary) -> None:
        self.limits: list[tuple[str, Bound]] = []
        self._found: dict[str, list[list[Finding]]] = {}
        self._ranked: list[list[Finding]] = []
        self._one_id_twice = False
        self._facts = facts
        self._vocabulary = vocabulary
        self._due = [stage for stage, from_then_on in _DUE_FROM.items() if facts.stage in from_then_on]
        self._scopes = {
            judges: [Scope.of(facts, subject) for subject in subjects.subjects]
            for judges, subjects in facts.subjects.items()
        }
        self._verdicts: dict[Clause, Verdict] = {}
        self._barriers: dict[object, Judgement | None] = {}

    def take_up(self, pack: Pack) -> None:
        """Begin with a pack."""
        self._one_id_twice = self._one_id_twice or pack.id in self._found
        self._ranked = self._found.setdefault(pack.id, [[] for _ in Outcome])

    def in_order(self) -> list[Finding]:
        """All findings. Those of one outcome and one pack stand in order already, since its rules are judged in
        order."""
        ranked = zip(*(self._found[pack] for pack in sorted(self._found)), strict=True)
        findings = [finding for packs in ranked for pack in packs for finding in pack]
        return in_order(findings) if self._one_id_twice else findings

    def judge_rule(self, standing: Standing, pack: Pack) -> None:
        """One rule over all things that it judges."""
        found: list[Finding] = []
        rule, of_label = standing.rule, standing.basis.layer == "label"
        scopes = self.scopes(standing)
        if not scopes:
            found.append(self._finding(standing, self._nothing(standing, pack), rule.level))
        for scope in scopes:
            name = "" if of_label else scope.subject.name
            barrier = self.barrier(standing, scope, pack)
            if barrier is None:
                kind = standing.kind
                judged = kind.judge_each(scope) if standing.judges_several else (kind.judge(scope),)
                for judgement in judged:
                    found.append(self._finding(standing, judgement, rule.level, name))
                for bound in standing.bounds:
                    self.limits.append((scope.subject.path, bound))
            else:
                level = "advised" if barrier.wording == "question/open" else rule.level
                if not standing.kind.judging and barrier.outcome is Outcome.CANT_TELL:
                    barrier = barrier.but(outcome=Outcome.NOT_APPLICABLE, absence=False)
                found.append(self._finding(standing, barrier, level, name))
        if len(found) > 1:
            found.sort(key=_members)
        for finding in found:
            outcome = NOT_APPLICABLE if finding.to_do else finding.judgement.outcome
            self._ranked[outcome.rank].append(finding)

    def scopes(self, standing: Standing) -> list[Scope]:
        """The things that a rule judges."""
        rule = standing.rule
        scopes = self._scopes[rule.judges]
        return scopes if rule.only is None else [one for one in scopes if one.subject.path == rule.only]

    def _finding(self, standing: Standing, judgement: Judgement, level: str, whose: str = "") -> Finding:
        to_do = judgement.absence and standing.basis.stage not in self._due
        return Finding(standing.basis, judgement, level, self._vocabulary, whose, to_do)

    def barrier(self, standing: Standing, scope: Scope, pack: Pack) -> Judgement | None:
        """None if the rule applies; else why it does not, or why that can't be told."""
        rule = standing.rule
        if self._facts.day is None and rule.dated:
            return missing(self._facts.day_lacks)
        if not rule.clauses:
            return None
        conditions = standing.conditions
        asked = conditions if standing.of_treatment else (scope.subject.path, conditions)
        barrier = self._barriers.get(asked, _NOT_ASKED)
        if barrier is _NOT_ASKED:
            barrier = self._barriers[asked] = self._barrier_among(rule.clauses, scope, pack)
        return barrier

    def _barrier_among(self, clauses: tuple[Clause, ...], scope: Scope, pack: Pack) -> Judgement | None:
        unknown: Verdict | None = None
        for clause in clauses:
            verdict = self._verdict(clause, scope)
            if verdict.truth is False:
                about = _once(verdict.about)
                return Judgement(
                    NOT_APPLICABLE, "does_not_apply", about, {"otherwise": clause.otherwise}
                )
            if verdict.truth is None:
                unknown = unknown or verdict
        if unknown is None:
            return None
        if unknown.questions and not unknown.lacks:
            asks = tuple(pack.questions[question].asks for question in _once(unknown.questions))
            return Judgement(Outcome.CANT_TELL, "question/open", unknown.about, {"asks": Listed(asks)})
        return missing(unknown.lacks, why=unknown.why)

    def _verdict(self, clause: Clause, scope: Scope) -> Verdict:
        if not clause.of_treatment:
            return clause.condition(scope)
        verdict = self._verdicts.get(clause)
        if verdict is None:
            verdict = self._verdicts[clause] = clause.condition(scope)
        return verdict

    def _nothing(self, standing: Standing, pack: Pack) -> Judgement:
        """The outcome if there is nothing of the sort that the rule judges, though perhaps there should be.

        The rule's conditions are asked of a thing of which nothing is stated: what does not hang on the
        thing still decides.
        """
        judges = standing.rule.judges
        lacks = self._facts.subjects[judges].lacks
        if not lacks:
            return Judgement(Outcome.NOT_APPLICABLE, "nothing_to_judge", ())
        roots = {root: Branch(lacks[0], {}) for root in self._vocabulary.subjects[judges]}
        unstated = Subject("", roots, lambda quantity, unit: ())
        barrier = self.barrier(standing, Scope.of(self._facts, unstated), pack)
        if barrier is None:
            return standing.kind.judge_nothing(lacks)
        if barrier.outcome is Outcome.CANT_TELL:
            return missing(lacks)
        about = (lacks[0] if path.startswith(f"{lacks[0]}.") else path for path in barrier.about)
        return barrier.but(about=_once(tuple(about)))


def _once(paths: Paths) -> Paths:
    return tuple(dict.fromkeys(paths)) if len(paths) > 1 else paths
