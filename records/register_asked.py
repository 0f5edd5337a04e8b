"""What a search of the register asks of a treatment's own columns."""

from collections.abc import Iterable

from django.db.models import Q

from records.register.orders import Order
from records.register.wanted import RegisterFilter
from shared.orm.quantities import projected

_WITH_DAYS = ("day__gte", "day__lte", "outcome", "state")


def columns_of(wanted: RegisterFilter) -> list[Q]:
    """Each part that is asked of a column."""
    least, most = wanted.wind_least, wanted.wind_most
    asked = [
        {"day__gte": wanted.day_from, "day__lte": wanted.day_to},
        {"outcome": wanted.outcome},
        {"state": wanted.state},
        {
            "strongest_wind__gte": least and projected(least.base),
            "strongest_wind__lte": most and projected(most.base),
        },
    ]
    given = [{name: value for name, value in each.items() if value not in (None, "")} for each in asked]
    return [Q(**each) for each in given if each]


def unserved(columns: Iterable[Q], order: Order) -> list[Q]:
    """Those that no index has together with the order: days go with days, and so do outcome and state."""
    return [each for each in columns if not (order.by_day and str(each.children[0][0]) in _WITH_DAYS)]


def within_days_alone(columns: Iterable[Q]) -> bool:
    """Whether nothing but days is asked."""
    return all(str(each.children[0][0]).startswith("day__") for each in columns)
