"""Who fills in the form, where and when: what a new item or a 'now' is written from."""

from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from records.forms.earlier import of_same_crew
from records.models import Membership, Treatment
from records.selectors import documents_before
from records.tanks_at_hand import tanks_at_hand
from shared import clock


def setting_of(treatment: Treatment, membership: Membership) -> dict[str, Any]:
    firm = treatment.firm
    zone = (treatment.document.get("site") or {}).get("time_zone") or firm.time_zone
    now = clock.now().astimezone(ZoneInfo(zone))
    people = [person.get("name") for person in treatment.document.get("people") or []]
    name = membership.person.name if membership.person else ""
    return {
        "firm": firm,
        "treatment": treatment,
        "correcting": treatment.state == Treatment.State.CORRECTING,
        "document": treatment.document,
        "revision": treatment.revision,
        "now": now.isoformat(timespec="seconds"),
        "day": now.date(),
        "person": name if name in people else "",
        "tanks": cache(lambda drained=False: tanks_at_hand(treatment, drained)),
        "earlier": lambda: of_same_crew(treatment.document, documents_before(treatment)),
    }
