"""What an officer at the roadside asks: who drives, what is in the tank, under which label; and no more."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse

from records import reference
from records.document.types import DOCUMENT_SCHEMA
from records.filled_tank import FilledTank, as_mix
from records.models import Firm, Membership, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.register_search import treatments_of
from records.tanks import EMPTY, FILLED, KEPT, PLANNED, Tank, labels_on_board, tanks_of
from records.tanks_at_hand import tanks_on_board
from shared import clock
from shared.quantities import Quantity

NOT_SPRAYED = "stood-down"


@dataclass(frozen=True)
class OnBoard:
    """A mix of a treatment of the day."""

    treatment: Treatment
    tank: Tank


@dataclass(frozen=True)
class Before:
    """What is left of a tank that was filled before: a shared one, or a left-over of the record `of`."""

    tank: Tank
    left: Quantity
    day: date
    of: str


def of_the_day(membership: Membership, day: date) -> list[Treatment]:
    """The person's treatments of that day; all of the firm's for who is on none of them."""
    off = (Treatment.State.VOID, Treatment.State.BROUGHT_IN)
    treatments = treatments_of(membership.firm).filter(day=day).exclude(state__in=off)
    going = [each for each in treatments if each.document["record"].get("result") != NOT_SPRAYED]
    going.sort(key=lambda each: each.planned_at)
    person = membership.person
    own = [each for each in going if person and person.name in each.applicators]
    return own or going


def holders(membership: Membership, day: date) -> dict[str, Any]:
    """The person and the firm with their licences of that day."""
    person = membership.person
    return {
        "person": reference.person_part(person, day) if person else {},
        "holder": reference.firm_part(membership.firm, day),
    }


def left_before(firm: Firm, day: date, going: list[Treatment], language: str) -> list[Before]:
    """What is left of tanks that were filled before, on the rigs of the day."""
    named = (rig for each in going for rig in each.document.get("equipment") or [] if rig.get("name"))
    rigs = {rig["name"]: rig for rig in named}
    return [_before(each, rigs, language) for each in tanks_on_board(firm, day, set(rigs))]


def _before(filled: FilledTank, rigs: Mapping[str, Any], language: str) -> Before:
    mix = as_mix(filled, filled.key, [], [filled.rig])
    rig = rigs.get(filled.rig) or {"name": filled.rig}
    stated = {"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [mix], "equipment": [rig] if filled.rig else []}
    (tank,) = tanks_of(stated, language)
    return Before(tank, filled.left, filled.day, str(filled.load.get("from_record") or ""))


def is_in_it(tank: Tank) -> bool:
    """Whether the mix is in the tank still; a known amount that is kept stands among the left-overs."""
    return tank.state == FILLED or (tank.state == KEPT and not tank.mix["left_over"].get("amount"))


class Roadside(FirmPage):
    permission = "records.edit_draft"
    template_name = "records/roadside.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        day = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        going = of_the_day(self.membership, day)
        mixes = [OnBoard(each, tank) for each in going for tank in tanks_of(each.document, self.language)]
        before = left_before(self.firm, day, going, self.language)
        return self.page(
            day=day,
            **holders(self.membership, day),
            before=before,
            inside=[each for each in mixes if is_in_it(each.tank)],
            planned=[each for each in mixes if each.tank.state == PLANNED],
            sprayed=[each for each in mixes if each.tank.state in (KEPT, EMPTY)],
            labels=labels_on_board(each.tank for each in (*before, *mixes)),
        )
