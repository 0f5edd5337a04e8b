"""What the worker does for records."""

import logging
from datetime import UTC, date, datetime, timedelta

from django.conf import settings
from django_tasks import task

from records.models import Firm, TreeHead
from records.services.time_stamps import end_of, time_stamp_last_head
from shared import clock

logger = logging.getLogger(__name__)
FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=1), timedelta(hours=6)


@task()
def time_stamp_day(firm_id: str, day: str, tries: int = 0) -> None:
    """Have the last head of a day time-stamped; while the authority is silent, try again later and later."""
    from shared.time_stamps import TimeStampError

    if not settings.TIME_STAMP_AUTHORITY:
        return
    try:
        firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
        time_stamp_last_head(firm, date.fromisoformat(day))
    except TimeStampError as error:
        wait = min(FIRST_WAIT * 2 ** min(tries, 10), LONGEST_WAIT)
        logger.warning("The log of %s has no time-stamp yet; asked again in %s: %s", day, wait, error)
        time_stamp_day.using(run_after=clock.now() + wait).enqueue(firm_id, day, tries + 1)


def time_stamp_the_day(firm: Firm, at: datetime) -> None:
    """Queue the time-stamp of the day's last head, at the first head of the day, for when the day is over."""
    if not settings.TIME_STAMP_AUTHORITY:
        return
    day = at.astimezone(UTC).date()
    since = end_of(day - timedelta(days=1))
    if TreeHead.objects.for_firm(firm).filter(made_at__gte=since).count() == 1:
        time_stamp_day.using(run_after=end_of(day)).enqueue(str(firm.pk), day.isoformat())
