"""Find treatments: which index a search is read along is decided by how much each of its parts lets through.

A part that lets few through is read first, and the rest is asked of these few. Where every part lets many
through, the order's own index is read, and what fits is met soon. A part that is one term stands in its own
index in the order of the days, so that it is read along there, be it many or few.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import reduce
from operator import and_
from typing import Any, NamedTuple

from django.db.models import Exists, F, OrderBy, OuterRef, Q, QuerySet
from django.db.models.functions import Coalesce

from records.models import Firm, RegisterTerm, Treatment, TreatmentTerm
from records.register.orders import NEWEST, Order
from records.register.wanted import RegisterFilter
from records.register_asked import columns_of, unserved, within_days_alone
from records.register_parts import Part, parts_of

COUNTED = 10_000
"""What is counted exactly unasked."""
FEW = 2_000
"""So many are sorted sooner than the order's index is read until as many as a page holds are met."""
ALONG = "day_of_term"
"""The day and the row as the index of a term has them."""

LINE = (
    "firm", "number", "day", "state", "result", "outcome", "site_name", "customer_name", "products",
    "applicators",
)  # fmt: skip
"""What a line of the register says."""


class Found(NamedTuple):
    """What is found, in its order, and what has as many rows and is counted sooner. It is `few` where no more
    than `FEW` can be found, and `slow` to count where each of many has to be asked for more than the index
    says."""

    treatments: QuerySet[Treatment]
    to_count: QuerySet[Any]
    few: bool = False
    slow: bool = False

    def count(self) -> int | None:
        """How many there are; None for more than `COUNTED`."""
        return self.to_count.order_by().count() if self.few else counted(self.to_count)


def treatments_of(
    firm: Firm, wanted: RegisterFilter | None = None, *, drafts: bool = True, order: Order = NEWEST
) -> QuerySet[Treatment]:
    """The firm's treatments that the filter lets through, in this order; without `drafts` the signed."""
    return found_in(firm, wanted, drafts=drafts, order=order).treatments


def found_in(
    firm: Firm, wanted: RegisterFilter | None = None, *, drafts: bool = True, order: Order = NEWEST
) -> Found:
    """The same with what is counted for it: the links of a term, where having it is all that is asked."""
    wanted = wanted or RegisterFilter()
    treatments = Treatment.objects.for_firm(firm).defer("document", "unread")
    whole = drafts and not order.only_with
    if not drafts:
        treatments = treatments.exclude(state=Treatment.State.DRAFT)
    if order.only_with:
        treatments = treatments.filter(**{f"{order.only_with}__isnull": False})
    if wanted.words and (numbered := treatments.filter(number=wanted.words.strip())).exists():
        wanted, treatments, whole = replace(wanted, words=""), numbered, False
    return _found(firm, treatments, wanted, order, whole)


def page_after(
    treatments: QuerySet[Treatment], last: Treatment | None, order: Order = NEWEST
) -> QuerySet[Treatment]:
    """What comes after `last` in the order, so that pages cost the same however deep they are."""
    if last is None:
        return treatments
    key = [(_column(treatments, name), falls, getattr(last, name)) for name, falls in order.key]
    first, falls, value = key[0]
    return treatments.filter(_beyond(key), **{f"{first}__{'lte' if falls else 'gte'}": value})


def counted(treatments: QuerySet[Any], most: int = COUNTED) -> int | None:
    """How many there are; None for more than `most`."""
    rows = treatments.order_by()
    return None if rows[most : most + 1].exists() else rows.count()


def _found(
    firm: Firm, treatments: QuerySet[Treatment], wanted: RegisterFilter, order: Order, whole: bool
) -> Found:
    """Of the `whole` register the links of terms are counted, where having one of them within the days is all
    that is asked."""
    columns, parts = columns_of(wanted), list(parts_of(firm, wanted))
    listed = sorted((ids for _names, ids in parts if ids is not None), key=len)
    if listed and not listed[0]:
        return Found(treatments.none(), treatments.none(), few=True)
    read, sorts = None, False
    if order.by_day and listed and len(listed[0]) == 1:
        read = listed[0]
        treatments = _along(treatments, read[0], wanted)
        others = [each for each in columns if not within_days_alone([each])]
        treatments = treatments.filter(reduce(and_, others, Q()))
    else:
        treatments = treatments.filter(reduce(and_, columns, Q()))
        if (fewest := _fewest(firm, listed, unserved(columns, order))) is not None:
            (source, read), sorts = fewest, True
            treatments = treatments.filter(pk__in=source)
    asked = [part for part in parts if part[1] is None or part[1] is not read]
    found = treatments.filter(*(_has(firm, part) for part in asked))
    found = found.order_by(*_ordered(found, order, sorts))
    if whole and read and not asked and within_days_alone(columns):
        return Found(found, _links_of(firm, read, wanted), few=sorts)
    few = sorts or (bool(asked and read) and _size(_links_of(firm, read or ())) <= FEW)
    return Found(found, found, few, slow=bool(asked) and not few)


def _ordered(treatments: QuerySet[Treatment], order: Order, sorts: bool) -> list[OrderBy]:
    """The order's columns. What is few is to be sorted: of a first column that is worked out no index is read,
    so that no planner walks a million rows to meet a hundred."""
    columns: list[Any] = [F(_column(treatments, name)) for name, _falls in order.key]
    if sorts:
        columns[0] = Coalesce(columns[0], columns[0])
    falls = [falls for _name, falls in order.key]
    return [OrderBy(column, descending=each) for column, each in zip(columns, falls, strict=True)]


def _along(treatments: QuerySet[Treatment], term: int, wanted: RegisterFilter) -> QuerySet[Treatment]:
    """The treatments of one term, from its index."""
    found = treatments.filter(found_by__term=term, **_days(wanted, "found_by__day"))
    return found.annotate(**{ALONG: F("found_by__day"), f"{ALONG}_row": F("found_by__treatment")})


def _links_of(firm: Firm, ids: Sequence[int], wanted: RegisterFilter | None = None) -> QuerySet[Any]:
    """Which treatments have one of the terms, each once. The terms say whose they are: of the links their index
    is read and no row."""
    days = _days(wanted, "found__day") if wanted else {}
    links = RegisterTerm.objects.for_firm(firm).filter(pk__in=ids, found__isnull=False, **days)
    treatments = links.values("found__treatment")
    return treatments if len(ids) == 1 else treatments.distinct()


def _days(wanted: RegisterFilter, column: str) -> dict[str, Any]:
    days = {f"{column}__gte": wanted.day_from, f"{column}__lte": wanted.day_to}
    return {bound: day for bound, day in days.items() if day}


def _size(rows: QuerySet[Any]) -> int:
    """How many rows there are, up to one more than `FEW`."""
    return rows.order_by()[: FEW + 1].count()


def _fewest(
    firm: Firm, listed: Iterable[Sequence[int]], columns: Iterable[Q]
) -> tuple[Any, Sequence[int] | None] | None:
    """The rows of the part that lets the fewest through, and its terms; None where each lets many."""
    rows = Treatment.objects.for_firm(firm)
    sources: list[tuple[Any, Sequence[int] | None]] = [(_links_of(firm, ids), ids) for ids in listed]
    sources += [(rows.filter(column).values("pk"), None) for column in columns]
    counts = [(_size(source), number) for number, (source, _ids) in enumerate(sources)]
    count, number = min(counts, default=(FEW + 1, 0))
    return sources[number] if count <= FEW else None


def _has(firm: Firm, part: Part) -> Exists:
    asked, ids = part
    links = TreatmentTerm.objects.for_firm(firm).filter(treatment=OuterRef("pk"))
    named = RegisterTerm.objects.for_firm(firm).filter(asked) if ids is None else ids
    return Exists(links.filter(term__in=named))


def _column(treatments: QuerySet[Treatment], name: str) -> str:
    along = {"day": ALONG, "uuid": f"{ALONG}_row"}
    return along.get(name, name) if ALONG in treatments.query.annotations else name


def _beyond(key: Sequence[tuple[str, bool, Any]]) -> Q:
    (name, falls, value), *rest = key
    past = Q(**{f"{name}__{'lt' if falls else 'gt'}": value})
    return past | (Q(**{name: value}) & _beyond(rest)) if rest else past
