"""By what a notice is compared with the plan later: the codes that it states, and what was typed for it."""

from collections.abc import Mapping

from compliance.models import VisitSaid
from compliance.notices.tellings import Telling
from compliance.papers.notice import NoticeContent, answered, marks_of
from records.document.types import TreatmentDocument
from records.models import Treatment

UNTIL = "time"
_CLOCK = "%H:%M"


def states_of(
    document: TreatmentDocument, content: NoticeContent, filled: Mapping[str, str], telling: Telling
) -> tuple[str, ...]:
    """By which codes it says of the visit what data answer, and marks of what was typed; that it is off says
    nothing else of it."""
    if content.called_off:
        return ()
    codes = [line.code for side in content.sides for line in side.lines]
    return (*answered(document, codes), *marks_of(_typed(content, filled, telling)))


def typed_now(treatment: Treatment) -> Mapping[str, str]:
    """By its key what stands typed for the treatment's visit."""
    kept = VisitSaid.objects.for_firm(treatment.firm).filter(treatment=treatment).first()
    if kept is None:
        return {}
    return {**kept.filled, **({UNTIL: f"{kept.until:{_CLOCK}}"} if kept.until else {})}


def _typed(content: NoticeContent, filled: Mapping[str, str], telling: Telling) -> Mapping[str, str]:
    """By its key what stands in the notice as it was typed and one of the person's duties asks for."""
    asked = {one.key for asking in telling.asks for one in asking.duty.contents}
    stands = {(line.key, line.value) for side in content.sides for line in side.lines}
    found = {key: text for key, text in filled.items() if key in asked and (key, text) in stands}
    if content.until and UNTIL in asked:
        found[UNTIL] = f"{content.until:{_CLOCK}}"
    return found
