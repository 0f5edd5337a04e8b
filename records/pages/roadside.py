"""What an officer at the roadside asks: who drives, what is in the tank, under which label; and no more."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse

from records import reference
from records.models import Membership, Treatment
from records.pages.firm_page import FirmPage
from records.selectors import treatments_of
from records.tanks import Tank, labels_on_board, tanks_of
from shared import clock

NOT_SPRAYED = "stood-down"


@dataclass(frozen=True)
class OnBoard:
    """The tanks of one treatment of the day."""

    treatment: Treatment
    tanks: list[Tank]


def of_the_day(membership: Membership, day: date) -> list[Treatment]:
    """The person's treatments of that day; all of the firm's for who is on none of them."""
    treatments = treatments_of(membership.firm).filter(day=day).exclude(state=Treatment.State.VOID)
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


class Roadside(FirmPage):
    permission = "records.edit_draft"
    template_name = "records/roadside.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        day = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        on_board = [
            OnBoard(each, tanks_of(each.document, self.language)) for each in of_the_day(self.membership, day)
        ]
        return self.page(
            day=day,
            **holders(self.membership, day),
            on_board=on_board,
            labels=labels_on_board(tank for each in on_board for tank in each.tanks),
        )
