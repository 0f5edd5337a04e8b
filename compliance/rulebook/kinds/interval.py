"""Kind `interval`: time between treatments, season, hours of the day."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time
from typing import Any, Self, TypeVar

from compliance.rulebook.bounds import Bounds, read_bounds, sayable
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, Limited, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_clock_time, as_month_day
from compliance.rulebook.sizes import Size
from compliance.rulebook.vocabulary import FactPath, Measure, read_path
from shared.wording import Blank, Wording

T = TypeVar("T")
MonthDay = tuple[int, int]

_ANOTHER_DAY = Wording("Put it off to a later day.", "Aplácelo a otro día.")
_ANOTHER_HOUR = Wording("Work within these hours.", "Trabaje dentro de ese horario.")


@dataclass(frozen=True)
class Interval(Kind):
    """One of three: days between treatments of a surface, a season, hours of the day.

    An earlier treatment that may have been one counts only if the bound would come out differently with it.
    """

    name = "interval"
    judges = ("document", "products")
    wordings = {
        "interval/first": Wording(
            "No earlier treatment of the same surface with this product is on record.",
            "No consta ningún tratamiento anterior de la misma superficie con este producto.",
        ),
        "interval/between_met": Wording(
            "{observed} since the last treatment; {by}: {bound}.",
            "{observed} desde el último tratamiento; {by}: {bound}.",
        ),
        "interval/between_not_met": Wording(
            "{observed} since the last treatment of this surface; {by} asks for {bound}. {mend}",
            "{observed} desde el último tratamiento de esta superficie; {by} exige {bound}. {mend}",
        ),
        "interval/season_met": Wording(
            "{observed} is within the season of {by}, {bound}.",
            "{observed} está dentro de la temporada de {by}, {bound}.",
        ),
        "interval/season_not_met": Wording(
            "{observed} is outside the season of {by}, {bound}. {mend}",
            "{observed} está fuera de la temporada de {by}, {bound}. {mend}",
        ),
        "interval/hours_met": Wording(
            "Worked {observed}, within the hours of {by}, {bound}.",
            "Se trabajó de {observed}, dentro del horario de {by}, {bound}.",
        ),
        "interval/hours_not_met": Wording(
            "Worked {observed}, outside the hours of {by}, {bound}. {mend}",
            "Se trabajó de {observed}, fuera del horario de {by}, {bound}. {mend}",
        ),
    }

    between: Bounds | None = None
    measure: Measure | None = None
    season: tuple[MonthDay, MonthDay] | None = None
    hours: tuple[time, time] | None = None
    moments: tuple[FactPath, ...] = ()

    @classmethod
    def read(cls, params: Params) -> Self:
        form = params.which("between", "season", "hours")
        if form == "between":
            return cls._read_between(params)
        if form == "season":
            return cls(season=params.value(form, lambda raw: _ends(params, raw, as_month_day)))
        roots = params.setting.roots
        moments = tuple(read_path(f"timing.{name}", roots) for name in ("started_at", "finished_at"))
        hours = params.value(form, lambda raw: _ends(params, raw, as_clock_time))
        if hours[1] <= hours[0]:
            blanks = {"from": hours[0].isoformat("minutes"), "until": hours[1].isoformat("minutes")}
            raise RuleError("rule/backwards", blanks, (form,))
        return cls(hours=hours, moments=moments)

    @classmethod
    def _read_between(cls, params: Params) -> Self:
        measure = params.setting.vocabulary.measures["days_between"]
        if params.setting.judges != "products":
            blanks = {"what": "between", "judges": params.setting.judges, "allowed": "products"}
            raise RuleError("rule/wrong_subject", blanks, ("between",))

        def read(raw: object) -> Bounds:
            part = params.inner(raw)
            bounds = read_bounds(part, measure.dimensions)
            part.done()
            return bounds

        return cls(between=params.value("between", read), measure=measure)

    def judge(self, scope: Scope) -> Judgement:
        if self.between:
            return self._judge_between(scope, self.between)
        return self._judge_season(scope) if self.season else self._judge_hours(scope)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def limits(self) -> tuple[Limited, ...]:
        return (Limited(self.measure, self.between),) if self.measure and self.between else ()

    def _judge_between(self, scope: Scope, bounds: Bounds) -> Judgement:
        measured = scope.subject.measure("days_between", bounds.unit)
        if not measured:
            return Judgement(Outcome.MET, "interval/first", ("context.earlier",), bound=bounds)
        kept = all(bounds.hold(one.value) for one in measured if one.value is not None)
        lacks = [
            path
            for one in measured
            if one.value is None and (one.may_be is None or bounds.hold(one.may_be) is not kept)
            for path in one.lacks
        ]
        size = measured[0].may_be if measured[0].value is None else measured[0].value
        if lacks or size is None:
            return missing(tuple(lacks), bounds)
        return _said(Outcome.MET if kept else Outcome.NOT_MET, measured[0].about, size, bounds)

    def _judge_season(self, scope: Scope) -> Judgement:
        day, (first, last) = scope.facts.day, self.season or ((1, 1), (12, 31))
        bound = f"{first[0]:02}-{first[1]:02} – {last[0]:02}-{last[1]:02}"
        if day is None:
            return missing(scope.facts.day_lacks, bound)
        here = (day.month, day.day)
        inside = first <= here <= last if first <= last else here >= first or here <= last
        outcome = Outcome.MET if inside else Outcome.NOT_MET
        return _said_text(outcome, "season", ("timing.started_at",), day.isoformat(), bound)

    def _judge_hours(self, scope: Scope) -> Judgement:
        opens, closes = self.hours or (time.min, time.max)
        bound = f"{opens:%H:%M} – {closes:%H:%M}"
        leaves = [path.leaf(scope) for path in self.moments]
        known = [(scope.facts.local(leaf.value), leaf) for leaf in leaves if isinstance(leaf.value, datetime)]
        outside = [leaf for moment, leaf in known if not opens <= moment.time().replace(second=0) <= closes]
        if not outside and len(known) < len(leaves):
            return missing(tuple(path for leaf in leaves for path in leaf.lacks), bound)
        observed = " – ".join(f"{moment:%H:%M}" for moment, _ in known)
        about = tuple(path for leaf in outside or leaves for path in leaf.about)
        return _said_text(Outcome.NOT_MET if outside else Outcome.MET, "hours", about, observed, bound)


def _said(outcome: Outcome, about: Paths, value: Size, bounds: Bounds) -> Judgement:
    blanks: dict[str, Blank] = {"observed": sayable(value), "bound": bounds}
    wording = f"interval/between_{outcome}"
    return Judgement(outcome, wording, about, blanks, value, bounds, mend=_ANOTHER_DAY)


def _said_text(outcome: Outcome, form: str, about: Paths, observed: str, bound: str) -> Judgement:
    blanks = {"observed": observed, "bound": bound}
    mend = _ANOTHER_DAY if form == "season" else _ANOTHER_HOUR
    return Judgement(outcome, f"interval/{form}_{outcome}", about, blanks, observed, bound, mend=mend)


def _ends(params: Params, raw: object, reader: Callable[[Any], T]) -> tuple[T, T]:
    part = params.inner(raw)
    ends = part.value("from", reader), part.value("to", reader)
    part.done()
    return ends
