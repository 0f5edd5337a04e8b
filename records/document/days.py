"""The day of a treatment: the one day that chooses the values in force."""

from datetime import date, datetime

from records.document.types import TreatmentDocument
from shared.times import local_day, read_time


def moment_of(document: TreatmentDocument) -> datetime | None:
    """When the treatment was started, else for when it is planned, else None."""
    timing = document.timing
    text = timing and (timing.started_at or timing.planned_at)
    return read_time(text) if text else None


def treatment_day(document: TreatmentDocument) -> date | None:
    """The local date of that moment in the site's time zone, else in its own offset; None if unknown."""
    moment = moment_of(document)
    return moment and local_day(moment, document.site.time_zone if document.site else None)
