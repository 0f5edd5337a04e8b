"""What the worker does for records."""

import logging
from datetime import datetime, timedelta

from django.conf import settings
from django_tasks import task

from records.models import Firm, TreeHead
from records.services.time_stamps import midnight, time_stamp_last_head
from shared import clock

logger = logging.getLogger(__name__)
A_DAY = timedelta(days=1)
FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=1), timedelta(hours=6)


@task()
def time_stamp_log(firm_id: str, tries: int = 0) -> None:
    """Have the log as it stood at midnight time-stamped; while the authority is silent, ask later and later."""
    from shared.time_stamps import TimeStampError

    if not settings.TIME_STAMP_AUTHORITY:
        return
    firm = Firm.objects.for_firm(Firm(pk=firm_id)).get()
    try:
        time_stamp_last_head(firm)
    except TimeStampError as error:
        wait = min(FIRST_WAIT * 2 ** min(tries, 10), LONGEST_WAIT)
        logger.warning("The log of %s has no time-stamp yet; asked again in %s: %s", firm, wait, error)
        time_stamp_log.using(run_after=clock.now() + wait).enqueue(firm_id, tries + 1)


def queue_time_stamp(firm: Firm, at: datetime) -> None:
    """At the first head of a day, queue the time-stamp of its last one for when the day is over."""
    if not settings.TIME_STAMP_AUTHORITY:
        return
    heads_of_the_day = TreeHead.objects.for_firm(firm).filter(made_at__gte=midnight(at))
    if heads_of_the_day.count() == 1:
        time_stamp_log.using(run_after=midnight(at) + A_DAY).enqueue(str(firm.pk))
