"""A lawn in a county of New York that adopted the law on telling neighbours, with people near it."""

from dataclasses import replace
from datetime import date, datetime
from uuid import UUID

import pytest
import time_machine

from records.models import Neighbour, NeighbourList, Treatment
from records.services.planning import plan_treatment
from shared.quantities import Quantity
from tests.factories import MembershipFactory, NeighbourFactory, SurfaceFactory

NOW = datetime.fromisoformat("2026-09-09T09:00:00-04:00")
PLANNED = datetime.fromisoformat("2026-09-14T09:00:00-04:00")
NEIGHBOURS = "us-ny/notice/neighbors"
NEAR = {"city": "Port Quill", "region": "NY", "postcode": "11500", "country": "US", "abutting": True,
        "dwelling": True, "distance": Quantity("20", "ft")}  # fmt: skip
ALTERNATES = (date(2026, 9, 15), date(2026, 9, 16))


@pytest.fixture(autouse=True)
def days_before():
    with time_machine.travel(NOW, tick=False) as clock:
        yield clock


@pytest.fixture
def office(firm):
    return MembershipFactory(firm=firm, role="office", user__name="N. Novak")


@pytest.fixture
def lawn(firm, member, plan) -> Treatment:
    site = plan.site
    site.jurisdictions, site.county = ["us", "us-ny", "us-ny-nassau"], "Nassau"
    site.time_zone = "America/New_York"
    site.region, site.customer.email = "NY", "marlowe@example.net"
    site.save()
    site.customer.save()
    area = Quantity("900", "ft**2")
    surface = SurfaceFactory(site=site, firm=firm, name="Front lawn", kind="lawn", plan_area=area)
    return plan_treatment(firm, member.user, replace(plan, planned_at=PLANNED, surfaces=[surface]))


@pytest.fixture
def neighbours(lawn, office) -> list[Neighbour]:
    """Lark has an e-mail, Wren an address alone, Fink is not abutting; the list is complete."""
    firm, site = lawn.firm, lawn.site
    NeighbourList.objects.create(firm=firm, site=site, as_of=date(2026, 9, 1), by=office.user)
    people = [
        {"name": "B. Lark", "line1": "6 Heron Row", "email": "lark@example.net", "walk": 2},
        {"name": "C. Wren", "line1": "2 Heron Row", "email": "", "walk": 1, "language": "es"},
        {"name": "D. Fink", "line1": "9 Heron Row", "email": "fink@example.net", "walk": 3, "abutting": False},
    ]
    return [
        NeighbourFactory(firm=firm, site=site, uuid=UUID(int=number), **{**NEAR, **one})
        for number, one in enumerate(people, 1)
    ]
