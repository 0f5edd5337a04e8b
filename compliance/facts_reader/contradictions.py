"""What a record says against itself: work on a day stood down, a record completed before the work was, a
forecast that was none for the day, a clock of another place, and the marks of a product line."""

import re
from collections.abc import Iterator
from datetime import timedelta

from compliance.facts_reader.tree import exempt_with_number
from compliance.rulebook.facts import Items, Leaf, Node
from records.document.days import moment_of
from records.document.registration import is_epa_number, registration_key
from records.document.types import Mix, Product, Site, Timing, TreatmentDocument
from shared.place_zones import is_elsewhere
from shared.times import local_day, read_time

_ENDS = ("timing.recorded_at", "timing.finished_at")
_POSTCODE = "site.address.postcode"
_ZIP = re.compile("[0-9]{5}(-[0-9]{4})?")
_ISSUED = "weather.forecast.issued_at"
FORECAST_HOLDS = timedelta(hours=24)
"""A forecast of the day before is too old to spray by: common practice, no source."""


def contradictions(document: TreatmentDocument) -> dict[str, Node]:
    """All of them, by the name of their fact."""
    return {
        "traces_of_work": traces_of_work(document),
        "recorded_early": recorded_early(document),
        "forecast_out_of_time": forecast_out_of_time(document),
        "zone_elsewhere": zone_elsewhere(document),
        "over_days": over_days(document),
        "zip_code": zip_code(document),
    }


def traces_of_work(document: TreatmentDocument) -> Items:
    """The members that say something was applied: amounts, people who sprayed, and loads of which it is not
    said where they went."""
    paths = (*traces_in_mixes(document), *_of_people(document))
    return Items(tuple(Leaf(True, (path,)) for path in paths), paths or ("mixes", "people"))


def recorded_early(document: TreatmentDocument) -> Leaf:
    """Whether the record was completed before the work was finished; unknown where a time is left out."""
    timing = document.timing or Timing()
    if timing.recorded_at is None or timing.finished_at is None:
        return Leaf(None, _ENDS, _ENDS)
    return Leaf(read_time(timing.recorded_at) < read_time(timing.finished_at), _ENDS)


def forecast_out_of_time(document: TreatmentDocument) -> Leaf:
    """Whether the forecast was issued after the finish, or too long before the start (else the plan)."""
    timing = document.timing or Timing()
    forecast = document.weather.forecast if document.weather else None
    issued = forecast.issued_at if forecast and forecast.dry_until else None
    start, finish = timing.started_at or timing.planned_at, timing.finished_at
    if issued and start and read_time(start) - read_time(issued) > FORECAST_HOLDS:
        return Leaf(True, (_ISSUED, "timing.started_at" if timing.started_at else "timing.planned_at"))
    if issued and start and finish:
        return Leaf(read_time(issued) > read_time(finish), (_ISSUED, "timing.finished_at"))
    times = {_ISSUED: issued, "timing.started_at": start, "timing.finished_at": finish}
    lacks = tuple(path for path, moment in times.items() if moment is None)
    return Leaf(None, lacks, lacks)


def zone_elsewhere(document: TreatmentDocument) -> Leaf:
    """Whether the site's time zone is none of the place that it lies in; unknown of a place not known here."""
    site, at = document.site or Site(), moment_of(document)
    stated = {
        "site.time_zone": site.time_zone,
        "site.jurisdictions": site.jurisdictions,
        "timing.started_at": at,
    }
    lacks = tuple(path for path, there in stated.items() if not there)
    if not (site.time_zone and site.jurisdictions and at):
        return Leaf(None, lacks, lacks)
    about = ("site.time_zone", "site.jurisdictions")
    return Leaf(is_elsewhere(site.time_zone, site.jurisdictions, at), about)


def over_days(document: TreatmentDocument) -> Leaf:
    """Whether the work ended on another day, by the site's clock, than it began on."""
    timing, zone = document.timing or Timing(), document.site.time_zone if document.site else None
    if timing.started_at is None or timing.finished_at is None:
        stated = {"timing.started_at": timing.started_at, "timing.finished_at": timing.finished_at}
        lacks = tuple(path for path, moment in stated.items() if moment is None)
        return Leaf(None, lacks, lacks)
    first, last = (local_day(read_time(moment), zone) for moment in (timing.started_at, timing.finished_at))
    return Leaf(first != last, ("timing.finished_at", "timing.started_at"))


def zip_code(document: TreatmentDocument) -> Leaf:
    """Whether the site's postcode is a zip code: five digits, and four more behind a dash."""
    address = document.site.address if document.site else None
    stated = address.postcode if address else None
    if stated is None:
        return Leaf(None, (_POSTCODE,), (_POSTCODE,))
    return Leaf(bool(_ZIP.fullmatch(stated.strip())), (_POSTCODE,))


def marks_of(line: Product, path: str) -> dict[str, Node]:
    """What the marks of a product line say of each other; unknown where one of them is left out."""
    number, regime = f"{path}.registration_number", f"{path}.regime"
    stated = registration_key(line.registration_number) is not None
    both = stated and line.regime is not None
    lacks = tuple(path for path, there in ((number, stated), (regime, line.regime is not None)) if not there)
    return {
        "exempt_with_number": Leaf(exempt_with_number(line) if both else None, (number, regime), lacks),
        "federal_number": Leaf(
            is_epa_number(line.registration_number) if stated else None, (number,), () if stated else (number,)
        ),
    }


def traces_in_mixes(document: TreatmentDocument) -> Iterator[str]:
    """The amounts that were applied, and the loads of which it is not said where they went."""
    for number, mix in enumerate(document.mixes or []):
        path = f"mixes[{number}]"
        if mix.applied and mix.applied.exact:
            yield f"{path}.applied"
        for place, on in enumerate(mix.surfaces or []):
            if on.applied and on.applied.exact:
                yield f"{path}.surfaces[{place}].applied"
        if mix.loads and not _accounted_for(mix):
            yield f"{path}.loads"


def _accounted_for(mix: Mix) -> bool:
    """Whether it is said what became of a tank that was filled and not sprayed."""
    return mix.left_over is not None and mix.left_over.amount is not None


def _of_people(document: TreatmentDocument) -> Iterator[str]:
    for number, person in enumerate(document.people or []):
        if "sprayed" in (person.tasks or []):
            yield f"people[{number}].tasks"
