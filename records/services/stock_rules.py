"""What can't be written down of a lot, whoever says it: on the page or over the API."""

from collections.abc import Iterator
from datetime import date
from zoneinfo import ZoneInfo

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.models import Firm, StockMove
from shared import clock
from shared.quantities import Quantity

Kind = StockMove.Kind


def today_of(firm: Firm) -> date:
    return clock.now().astimezone(ZoneInfo(firm.time_zone)).date()


def faults(
    firm: Firm, kind: str | None, amount: Quantity | None, on: date | None, why: str
) -> Iterator[tuple[str, Promise]]:
    """Each with the member that it is about; what could not be read is None, and no fault of these."""
    if on and on > today_of(firm):
        yield "on", _("This day is still to come.")
    if kind in (Kind.DISPOSAL, Kind.RETURN) and not why.strip():
        yield "why", _("Say where it went or why.")
    if kind != Kind.COUNT and amount and not amount.base:
        yield "amount", _("Nothing is nothing to write down. A count may be 0.")
