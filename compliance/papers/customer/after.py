"""What the customer is told after the work: what was used, when to go back, what to look for, whom to call."""

from collections.abc import Iterable
from typing import Any

from compliance.papers.customer.content import CustomerPaper, Part, Telling, telling
from compliance.papers.notice.content import Line
from compliance.papers.speech import joined
from records.document.types import TreatmentDocument
from records.quoted_labels import label_language, quoted
from shared.quantities import Quantity

_LEFT_IN_PLACE = {"downspouts-diverted", "downspouts-plugged", "rain-barrels-disconnected", "ponds-covered"}
_GROWTH = ("moss", "algae", "lichen")


def after(document: TreatmentDocument | bytes | str | dict[str, Any], language: str = "en") -> CustomerPaper:
    """The paper for a treatment that is done, or was stood down. Raises DocumentFaults."""
    tell = telling(document, language, done=True)
    if tell.document.record.result == "stood-down":
        return _stood_down(tell)
    lines = (
        *_record(tell),
        *tell.stated(("date",)),
        *_work(tell),
        *tell.stated(("place",)),
        *_surfaces(tell),
        *tell.stated(("purpose", "products", "registration_numbers", "active_ingredients")),
        _reentry(tell),
    )
    return tell.paper("after", lines, (_today(tell), _weeks(tell), _copy(tell), tell.call()))


def _stood_down(tell: Telling) -> CustomerPaper:
    why = tell.speech.listed("stand_down_reason", tell.document.record.why)
    reason = (Line("why", tell.say("why"), why),) if why else ()
    lines = (*_record(tell), *tell.stated(("date", "place")), *reason)
    phone = tell.document.firm and tell.document.firm.phone
    said = [tell.say("new-day"), *([tell.say("questions", phone=phone)] if phone else [])]
    return tell.paper("stood-down", lines, (Part(tell.say("call"), tuple(said)),))


def _record(tell: Telling) -> Iterable[Line]:
    number = tell.document.record.number
    return (Line("record", tell.say("record"), number),) if number else ()


def _work(tell: Telling) -> Iterable[Line]:
    timing = tell.document.timing
    if not timing or not timing.started_at or not timing.finished_at:
        return ()
    span = {"start": tell.speech.time(timing.started_at), "end": tell.speech.time(timing.finished_at)}
    return (Line("work", tell.say("work"), tell.say("work-span", **span)),)


def _surfaces(tell: Telling) -> Iterable[Line]:
    names = joined((one.name for one in tell.document.surfaces or ()), "\n")
    return (Line("surfaces", tell.say("surfaces"), names),) if names else ()


def _reentry(tell: Telling) -> Line:
    """The moment on the record; until all is dry where it states none: common practice, no source."""
    at = tell.document.timing and tell.document.timing.reentry_at
    return Line("reentry", tell.say("reentry"), tell.speech.time(at) if at else tell.say("until-dry"))


def _today(tell: Telling) -> Part:
    steps = {one.step for one in tell.document.protection or ()}
    said = [tell.say("wet"), *_dry(tell), tell.say("rain")]
    said += [tell.say("back")] if steps & _LEFT_IN_PLACE else []
    places = (tell.document.site and tell.document.site.jurisdictions) or ()
    for product in tell.told.products:
        for text in (product.label and product.label.statements) or ():
            words = quoted(text, label_language(places), tell.speech.language)
            said.append(tell.say("label-says", product=product.name or "", text=words))
    return Part(tell.say("now"), tuple(said))


def _dry(tell: Telling) -> Iterable[str]:
    for product in tell.told.products:
        for limit in (product.label and product.label.limits) or ():
            if limit.of == "hours_dry_after" and isinstance(limit.min, Quantity):
                yield tell.say("rain-label", length=tell.speech.quantity(limit.min), product=product.name or "")


def _weeks(tell: Telling) -> Part:
    targets = tell.document.targets or ()
    kinds = {one.kind for one in tell.document.surfaces or ()}
    said = [tell.say(name) for name in _GROWTH if name in targets]
    said += [tell.say("scrape")] if "roof" in kinds else []
    return Part(tell.say("weeks"), (*said, tell.say("plants")))


def _copy(tell: Telling) -> Part:
    return Part(tell.say("copy"), (tell.say("copy-given"),))
