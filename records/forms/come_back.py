"""The day to come back for what a treatment left: of which record, why, what is left, what the label says."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import Any

from records.models import Treatment
from shared.days import business_days_after
from shared.public_holidays import CALENDARS, is_holiday
from shared.quantities import Quantity, QuantityError, of_dimension
from shared.quantities import read as read_quantity

Json = Mapping[str, Any]
LEAVES = ("stood-down", "part-treated")
WORKED = ("treated", "part-treated")
MOST = 60
"""Treatments of the site that are looked at for the last use of a product, the newest first."""


@dataclass(frozen=True)
class Wait:
    """By its label a product waits so long after its last use on a surface that is left: until `earliest`."""

    product: str
    between: Quantity
    last: date
    number: str
    earliest: date


@dataclass(frozen=True)
class ComesBack:
    """`left` are the names of the surfaces that are not done, as far as the record tells."""

    number: str
    day: date
    result: str
    why: str
    left: list[str]
    waits: list[Wait]


def is_unfinished(document: Json) -> bool:
    """Whether a day on which nothing or only a part was treated leaves something to come back for."""
    return (document.get("record") or {}).get("result") in LEAVES


def surfaces_left(document: Json) -> list[Json]:
    """The surfaces that are not done, as far as the record tells; all of them where it does not."""
    done = {name for mix in document.get("mixes") or [] for name in _done_with(mix)}
    surfaces = document.get("surfaces") or []
    return [each for each in surfaces if each.get("name") not in done] or surfaces


def comes_back(like: Treatment, day: date) -> ComesBack:
    """What there is to come back for; `waits` are those that treating on `day` would break."""
    record = like.document["record"]
    left = [each["name"] for each in surfaces_left(like.document) if each.get("name")]
    waits = [_wait(like, product, between, left) for product, between in _bounds(like.document)]
    broken = [wait for wait in waits if wait and wait.earliest > day]
    return ComesBack(like.number, like.day, record.get("result", ""), record.get("why", ""), left, broken)


def next_working_day(like: Treatment, today: date) -> date:
    places = like.document.get("site", {}).get("jurisdictions") or []
    calendars = [place for place in places if place in CALENDARS]
    after = max(today, like.day)
    return business_days_after(after, 1, lambda day: any(is_holiday(each, day) for each in calendars))


def _done_with(mix: Json) -> Iterator[str]:
    """A surface is done with a mix that says how much went onto it, or that names no other and was applied."""
    on = mix.get("surfaces") or []
    for each in on:
        if each.get("surface") and (each.get("applied") or (len(on) == 1 and mix.get("applied"))):
            yield each["surface"]


def _bounds(document: Json) -> Iterator[tuple[str, Quantity]]:
    lines = [line for mix in document.get("mixes") or [] for line in mix.get("products") or []]
    for name, line in {line.get("name"): line for line in lines if line.get("name")}.items():
        limits = (line.get("label") or {}).get("limits") or []
        for limit in (each for each in limits if each.get("of") == "days_between" and each.get("min")):
            try:
                yield name, of_dimension(read_quantity(limit["min"]), "time")
            except QuantityError:
                continue


def _wait(like: Treatment, product: str, between: Quantity, left: list[str]) -> Wait | None:
    treatments = Treatment.objects.for_firm(like.firm).filter(site=like.site, day__lte=like.day)
    uses = treatments.exclude(state=Treatment.State.VOID).order_by("-day")[:MOST]
    last = next((use for use in uses if _is_used(use.document, product, set(left))), None)
    if last is None:
        return None
    earliest = last.day + timedelta(days=ceil(between.to("day")))
    return Wait(product, between, last.day, last.number, earliest)


def _is_used(document: Json, product: str, left: set[str]) -> bool:
    if (document.get("record") or {}).get("result") not in WORKED:
        return False
    everywhere = {each.get("name") for each in document.get("surfaces") or []}
    mixes = (mix for mix in document.get("mixes") or [] if _holds(mix, product))
    on = ({each.get("surface") for each in mix.get("surfaces") or []} or everywhere for mix in mixes)
    return any(names & left for names in on)


def _holds(mix: Json, product: str) -> bool:
    return any(line.get("name") == product for line in mix.get("products") or [])
