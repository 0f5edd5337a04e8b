"""What the worker does for records."""

import logging
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django_tasks import task

from records.models import ArrivalFile, Firm, TreeHead, WayOut
from records.services.time_stamps import midnight, time_stamp_last_head
from shared import clock

logger = logging.getLogger(__name__)
A_DAY, A_MINUTE = timedelta(days=1), timedelta(minutes=1)
MOST_TRIES = 3
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


@task()
def look_at_arrival(file_id: str, firm_id: str, run: str) -> None:
    """Go through the rows of a spreadsheet that may be brought in."""
    from records.services.bringing_in.looking import go_through

    go_through(_arrival(file_id, firm_id), UUID(run))


@task()
def bring_in_arrival(file_id: str, firm_id: str, run: str) -> None:
    """Bring in what waits of a spreadsheet."""
    from records.services.bringing_in.taking import bring_in

    bring_in(_arrival(file_id, firm_id), UUID(run))


@task()
def take_arrival_back(file_id: str, firm_id: str, run: str) -> None:
    """Take back what a spreadsheet brought in."""
    from records.services.bringing_in.undoing import take_back

    take_back(_arrival(file_id, firm_id), UUID(run))


@task()
def make_way_out(row_id: str, firm_id: str) -> None:
    """Write everything of a firm into a file that its managers take, and let go of it some days later."""
    from records.services.way_out import make

    row = WayOut.objects.for_firm(Firm(pk=firm_id)).select_related("firm").get(pk=row_id)
    if row.is_under_way:
        make(row)
    if let_go_of_ways_out.get_backend().supports_defer:
        let_go_of_ways_out.using(run_after=clock.now() + WayOut.KEPT).enqueue(firm_id)


@task()
def let_go_of_ways_out(firm_id: str) -> None:
    from records.services.way_out import let_go_of_old

    let_go_of_old(Firm(pk=firm_id))


@task()
def look_after_way_out(row_id: str, firm_id: str) -> None:
    """Nothing half of everything stays where the worker died."""
    from records.services.way_out import look_after

    if row := WayOut.objects.for_firm(Firm(pk=firm_id)).select_related("firm").filter(pk=row_id).first():
        look_after(row)


def look_after_way_out_later(row: WayOut) -> None:
    if look_after_way_out.get_backend().supports_defer:
        later = clock.now() + WayOut.SILENCE + A_MINUTE
        look_after_way_out.using(run_after=later).enqueue(str(row.pk), str(row.firm_id))


@task()
def look_after_arrival(file_id: str, firm_id: str, tries: int = 0) -> None:
    """A spreadsheet whose worker died goes on, a few times: one that kills it must not do so for ever."""
    from records.services.bringing_in.turns import go_on

    if file := ArrivalFile.objects.for_firm(Firm(pk=firm_id)).select_related("firm").filter(pk=file_id).first():
        go_on(file, tries)


def look_after_arrival_later(file: ArrivalFile, tries: int = 0) -> None:
    """Where tasks are done at once, as in tests, nothing is done later."""
    if tries < MOST_TRIES and look_after_arrival.get_backend().supports_defer:
        later = clock.now() + ArrivalFile.SILENCE + A_MINUTE
        look_after_arrival.using(run_after=later).enqueue(str(file.pk), str(file.firm_id), tries)


def _arrival(file_id: str, firm_id: str) -> ArrivalFile:
    return (
        ArrivalFile.objects.for_firm(Firm(pk=firm_id))
        .select_related("firm", "by", "taken_by", "undone_by")
        .get(pk=file_id)
    )
