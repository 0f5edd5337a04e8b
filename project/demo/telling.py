"""The notices of one plan as they went out before anybody looks: made by the services, and none really sent."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from compliance.notices.ways import ways_of
from compliance.services.telling import Choice, Round, Visit
from compliance.services.to_tell import ToTell
from project.demo.ahead import working_day
from records.models import Attempt, Notice, Treatment, User
from records.models.notices import ON_PAPER
from records.outbox.answers import Answer, Came
from records.outbox.by_hand import Deed, do
from records.outbox.queueing import queue
from records.outbox.sending import claim, keep
from shared import clock

A_DAY = timedelta(days=1)
BETWEEN_MAILS = timedelta(seconds=7)
MADE_UP = "Made up for the demo: no mail was sent. Inventado para la demostración: no se envió ningún correo."
PRINTED_AFTER, HANDED_OVER_AFTER = timedelta(minutes=20), timedelta(hours=2)


def tell(treatment: Treatment, told: Mapping[str, Any], users: Mapping[str, User], now: datetime) -> None:
    """All whom a rule names are told; what goes on paper is printed, and handed over to some."""
    by, zone = users[told["by"]], ZoneInfo(treatment.site.time_zone)
    day = last_working_day(now.astimezone(zone).date())
    began_at = datetime.combine(day, time.fromisoformat(told["at"]), zone)
    with clock.at(began_at):
        make(treatment, told, by)
    mail(treatment, told["refused"], began_at)
    notices = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment)
    for notice in notices.filter(means__in=ON_PAPER):
        with clock.at(began_at + PRINTED_AFTER):
            do(notice, Deed(Attempt.Kind.PRINTED), by)
        if notice.name in told["handed_over"]:
            with clock.at(began_at + HANDED_OVER_AFTER):
                do(notice, Deed(Attempt.Kind.HANDED_OVER), by)


def last_working_day(today: date) -> date:
    """The last day before today that is no Saturday or Sunday."""
    day = today - A_DAY
    while day.weekday() > 4:
        day -= A_DAY
    return day


def make(treatment: Treatment, told: Mapping[str, Any], by: User) -> None:
    """One notice for each who is due, with the two working days after the planned one as alternates."""
    round_ = Round(treatment)
    zone = ZoneInfo(treatment.site.time_zone)
    day = round_.planned_at.astimezone(zone).date()
    until = datetime.combine(day, time.fromisoformat(told["done_by"]), zone)
    visit = Visit(until, tuple(working_day(day, count + 1) for count in range(round_.dates_needed)))
    due = [one for one in round_.people if one.is_due]
    ways = {one.key: str(told["ways"].get(one.contact.name, best_way(one))) for one in due}
    queue(treatment, round_.pieces({one.key: Choice(ways[one.key], one.languages) for one in due}, visit), by)


def best_way(person: ToTell) -> str:
    """Also by e-mail, of which none is sent."""
    return ways_of(person.telling, replace(person.contact, not_by=frozenset()))[0]


def mail(treatment: Treatment, refused: Mapping[str, str], began_at: datetime) -> None:
    """What a mail server would have answered to each, without one."""
    moment = began_at + BETWEEN_MAILS
    while notice := next_mail(treatment, moment):
        words = str(refused.get(notice.name, ""))
        with clock.at(moment):
            keep(notice, Answer(Came.REFUSED, words) if words else Answer(Came.ACCEPTED, MADE_UP))
        moment += BETWEEN_MAILS


def next_mail(treatment: Treatment, moment: datetime) -> Notice | None:
    with clock.at(moment):
        return claim(treatment.firm)
