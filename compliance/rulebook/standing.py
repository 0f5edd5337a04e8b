"""Rules as they stand on a day: each with the duty in force, and with what all its findings share."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from operator import attrgetter

from compliance.rulebook.finding import Basis
from compliance.rulebook.kind import Kind
from compliance.rulebook.limit_bound import Bound, bounds_of
from compliance.rulebook.rule import Clause, Duty, Rule
from shared.timeline import Timeline
from shared.wording import Sayable


@dataclass(frozen=True, eq=False, slots=True)
class Standing:
    """One rule with the duty that is in force.

    `conditions`: one and the same for all rules of the pack that apply under the same ones. `of_treatment`:
    whether it applies hangs on the treatment alone, not on the thing that is judged.
    `judges_several`: it may have several outcomes for one thing.
    """

    rule: Rule
    kind: Kind
    basis: Basis
    bounds: tuple[Bound, ...]
    conditions: object
    of_treatment: bool
    judges_several: bool


@dataclass(frozen=True, eq=False)
class Timetable:
    """The rules of one pack (its id, its layer, who allows and asks in a sentence) for each day."""

    pack: str
    layer: str
    by: Sayable | None
    rules: Sequence[Rule]

    def on(self, day: date | None) -> tuple[Standing, ...]:
        """The rules in force on a day; where it is unknown all of them, each with the last that it states."""
        return self._last if day is None else self._by_day.in_force_on(day) or ()

    @cached_property
    def _conditions(self) -> dict[tuple[Clause, ...], object]:
        return {rule.clauses: object() for rule in self.rules}

    @cached_property
    def _in_order(self) -> list[Rule]:
        """By their ids, the order in which findings stand."""
        return sorted(self.rules, key=attrgetter("id"))

    @cached_property
    def _last(self) -> tuple[Standing, ...]:
        return tuple(self._standing(rule, rule.all_duties[-1]) for rule in self._in_order)

    @cached_property
    def _by_day(self) -> Timeline[tuple[Standing, ...]]:
        changes = {date.min, *(day for rule in self.rules for day in rule.changes)}
        return Timeline({day: tuple(self._in_force_from(day)) for day in changes})

    def _in_force_from(self, day: date) -> list[Standing]:
        duties = [(rule, rule.duty_on(day)) for rule in self._in_order]
        return [self._standing(rule, duty) for rule, duty in duties if duty]

    def _standing(self, rule: Rule, duty: Duty) -> Standing:
        basis = Basis(
            rule=rule.id,
            pack=self.pack,
            title=rule.title,
            level=rule.level,
            layer=self.layer,
            stage=rule.stage,
            cite=duty.cite,
            text=rule.text,
            doubt=rule.doubt,
            by=self.by or duty.cite,
            mend=rule.mend,
        )
        of_treatment = all(clause.of_treatment for clause in rule.clauses)
        several = type(duty.kind).judge_each is not Kind.judge_each
        bounds = tuple(bound for limited in duty.kind.limits() for bound in bounds_of(limited, basis))
        conditions = self._conditions[rule.clauses]
        return Standing(rule, duty.kind, basis, bounds, conditions, of_treatment, several)
