"""Where people live who have said that they are sensitive, at this treatment's notice or at an earlier one."""

from collections.abc import Iterator
from uuid import UUID

from django.db.models import Q

from records.models import Neighbour, NoticeTask, Occupant, Treatment

REGISTERED = "registered-person"


def sensitive_near(treatment: Treatment, of_registers: bool) -> list[str]:
    """Their doors, no name: of the firm's lists, and of customers and those who are in no list any more. The
    doors of people on a register stand there only with `of_registers`, else are blank."""
    listed = [
        row
        for model in (Neighbour, Occupant)
        for row in model.objects.for_firm(treatment.firm).filter(site=treatment.site_id)
    ]
    doors = [row.line1 for row in listed if row.sensitive]
    return [*doors, *_of_others(treatment, {row.pk for row in listed}, of_registers)]


def _of_others(treatment: Treatment, listed: set[UUID], of_registers: bool) -> Iterator[str]:
    of_this = Q(notice__treatment=treatment) | Q(notice__site=treatment.site_id, notice__to="customer")
    tasks = NoticeTask.objects.for_firm(treatment.firm).filter(of_this, kind=NoticeTask.Kind.SENSITIVE)
    said = tasks.filter(taken_back_at=None).values_list("notice__to", "notice__row", "notice__address")
    people = {(to, row): address for to, row, address in said if row not in listed}
    for (to, _row), address in people.items():
        shown = address and (of_registers or to != REGISTERED)
        yield address[0] if shown else ""
