"""What a rule asks, said by its kind with its parameters: one function for each kind."""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from compliance.plain_words.notices import notice, posting
from compliance.plain_words.points import Point
from compliance.plain_words.teller import Teller
from compliance.rulebook.asks import Ask
from compliance.rulebook.durations import Duration
from compliance.rulebook.held import Asked
from compliance.rulebook.kind import Kind
from compliance.rulebook.kinds.agreement import Agreement
from compliance.rulebook.kinds.cumulative import Cumulative
from compliance.rulebook.kinds.deadline import Deadline
from compliance.rulebook.kinds.interval import Interval
from compliance.rulebook.kinds.licence import Licence
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.kinds.permission import Permission
from compliance.rulebook.kinds.ppe import Ppe
from compliance.rulebook.kinds.protection import Protection
from compliance.rulebook.kinds.record import Record
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.kinds.retention import Retention
from compliance.rulebook.kinds.surfaces import Surfaces
from compliance.rulebook.kinds.targets import Targets
from compliance.rulebook.kinds.validity import Validity
from compliance.rulebook.vocabulary import words_of
from records.document.words import WORD_LISTS

_READ_OVER_TIME = ("wind_speed", "gust", "temperature")


def describe(kind: Kind, tell: Teller) -> tuple[Point, ...]:
    """What a kind with its parameters asks, as points."""
    return tuple(DESCRIPTIONS[kind.name](kind, tell))


def _record(kind: Record, tell: Teller) -> Iterator[Point]:
    asks = zip(kind.asks, tell.raw["asks"], strict=True)
    yield tell.under("record", [_ask(ask, raw, tell) for ask, raw in asks])


def _ask(ask: Ask, raw: Mapping[str, Any], tell: Teller) -> Point:
    words, conditions = ask.words.say(tell.language), tell.conditions
    if ask.over:
        form = "ask/every" if ask.every else "ask/some"
        words = tell.say(form, list=tell.fact(ask.over), words=words)
        conditions = conditions.of_item(ask.over.text)
    exceptions = [name for name in ("where", "only", "unless") if name in raw]
    return Point(
        words, tuple(tell.under(f"ask/{name}", [conditions.point(raw[name])]) for name in exceptions)
    )


def _limit(kind: Limit, tell: Teller) -> Iterator[Point]:
    yield tell.point("limit", quantity=kind.measure.label, bounds=kind.bounds)
    if kind.measure.name in _READ_OVER_TIME:
        yield tell.point("limit/last" if kind.last_only else "limit/every")


def _licence(kind: Licence, tell: Teller) -> Iterator[Point]:
    known = WORD_LISTS["supervision"]
    yield tell.point(f"licence/{kind.holder}")
    led = {word for sort in kind.apprentices.sorts for word in (*sort.kinds, *sort.categories)}
    yield from _sort(kind.sorts[0], tell, led)
    for sort in kind.sorts[1:]:
        yield tell.under("licence/also", _sort(sort, tell, led))
    if kind.sorts[0].leaves_open:
        yield tell.point("licence/leaves_open")
    if kind.supervised:
        yield tell.point("licence/supervised", which=tell.listed(known[name] for name in kind.supervised))
    for sort in kind.apprentices.sorts:
        yield tell.under("licence/apprentices", _sort(replace(sort, authorities=()), tell))
    if kind.apprentices.ways:
        yield tell.point("licence/ways", which=tell.listed(known[name] for name in kind.apprentices.ways))
    if kind.only:
        yield tell.under("licence/only", [tell.conditions.point(tell.raw["only"])])


def _sort(sort: Asked, tell: Teller, told_apart: Container[str] = ()) -> Iterator[Point]:
    for name in ("authorities", "kinds", "categories", "not_kinds", "not_categories"):
        if which := [word for word in getattr(sort, name) if word not in told_apart]:
            yield tell.point(f"licence/{name}", which=tell.listed(which))


def _interval(kind: Interval, tell: Teller) -> Iterator[Point]:
    if kind.between:
        yield tell.point("interval/between", bounds=kind.between)
    elif kind.season:
        first, last = (f"{month:02}-{day:02}" for month, day in kind.season)
        yield tell.point("interval/season", first=first, last=last)
    elif kind.hours:
        first, last = (f"{moment:%H:%M}" for moment in kind.hours)
        yield tell.point("interval/hours", first=first, last=last)


def _deadline(kind: Deadline, tell: Teller) -> Iterator[Point]:
    follow_up = words_of(kind.follow_ups, "kind").get(kind.follow_up or "")
    what = tell.fact(kind.done) if kind.done else follow_up or ""
    form = "deadline/same_day" if kind.within == Duration() else "deadline"
    yield tell.point(form, what=what, length=kind.within, after=tell.fact(kind.after))


def _retention(kind: Retention, tell: Teller) -> Iterator[Point]:
    yield tell.point("retention", years=str(kind.years), after=tell.fact(kind.after))


def _report(kind: Report, tell: Teller) -> Iterator[Point]:
    if kind.month is None:
        yield tell.point("report/month", to=kind.to, day=str(kind.day))
    else:
        yield tell.point("report/year", to=kind.to, day=f"{kind.month:02}-{kind.day:02}")
    if kind.nil:
        yield tell.point("report/nil")
    if kind.fields:
        yield tell.under("report/fields", tell.lines(kind.fields))


def _protection(kind: Protection, tell: Teller) -> Iterator[Point]:
    several = kind.any_will_do and len(kind.steps) > 1
    yield tell.under("protection/any" if several else "protection/all", tell.lines(kind.steps.values()))
    for name, path, words in (
        ("features", kind.at_site, kind.features),
        ("surfaces", kind.treated, kind.surfaces),
    ):
        if path and words:
            known = words_of(path, "kind")
            yield tell.point(f"protection/{name}", which=tell.listed(known[word] for word in words))


def _permission(kind: Permission, tell: Teller) -> Iterator[Point]:
    yield tell.point("permission/regimes", which=tell.listed(kind.regimes.values()))
    yield tell.point("permission/surfaces", which=tell.listed(kind.surfaces.values()))
    if kind.may_be:
        yield tell.point("permission/may_be", which=tell.listed(kind.may_be.values()))
    if kind.authority is None:
        yield tell.point("permission/barred")
    else:
        yield tell.point("permission/permit", authority=kind.authority)


def _surfaces(kind: Surfaces, tell: Teller) -> Iterator[Point]:
    if kind.only_on is not None:
        yield tell.point("surfaces/only_on", which=tell.listed(kind.only_on.values()))
    else:
        yield tell.point("surfaces/not_on", which=tell.listed(kind.not_on))


def _ppe(kind: Ppe, tell: Teller) -> Iterator[Point]:
    yield tell.under("ppe", tell.lines(kind.wear.values()))


def _cumulative(kind: Cumulative, tell: Teller) -> Iterator[Point]:
    yield tell.point("cumulative", quantity=kind.measure.label, bounds=kind.bounds)


def _agreement(kind: Agreement, tell: Teller) -> Iterator[Point]:
    if kind.figures and kind.tolerance:
        yield tell.point("agreement/figures", figures=kind.figures.label, tolerance=kind.tolerance)
    else:
        yield tell.under("agreement/never", [tell.conditions.point(tell.raw["never"])])


def _validity(kind: Validity, tell: Teller) -> Iterator[Point]:
    yield tell.point("validity", start=tell.fact(kind.valid_from), end=tell.fact(kind.valid_to))


def _targets(kind: Targets, tell: Teller) -> Iterator[Point]:
    yield tell.point("targets", which=tell.listed(kind.named.values()))


DESCRIPTIONS: Mapping[str, Callable[[Any, Teller], Iterable[Point]]] = {
    "record": _record,
    "limit": _limit,
    "licence": _licence,
    "interval": _interval,
    "deadline": _deadline,
    "retention": _retention,
    "protection": _protection,
    "permission": _permission,
    "surfaces": _surfaces,
    "ppe": _ppe,
    "notice": notice,
    "posting": posting,
    "cumulative": _cumulative,
    "report": _report,
    "agreement": _agreement,
    "validity": _validity,
    "targets": _targets,
}
