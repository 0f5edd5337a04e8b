"""A plan and a draft as a crew would have them."""

from datetime import datetime

import pytest

from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft
from records.services.planning import Plan, PlannedProduct, plan_treatment
from shared.quantities import Quantity
from tests.factories import (
    CalibrationFactory,
    FeatureFactory,
    LicenceFactory,
    LotFactory,
    SiteFactory,
    SurfaceFactory,
)

PLANNED_AT = datetime.fromisoformat("2026-09-14T09:00:00-07:00")


@pytest.fixture
def plan(firm, member) -> Plan:
    site = SiteFactory(firm=firm, name="House, 4 Heron Row", customer__name="A. Marlowe")
    FeatureFactory(site=site, firm=firm, name="north-west downspout")
    surface = SurfaceFactory(site=site, firm=firm, name="Main roof, north slope")
    LicenceFactory(firm=firm, person=member.person, number="CO-00231")
    lot = LotFactory(firm=firm, number="L-0457", label__product__name="Sample Moss Wash")
    rig = CalibrationFactory(firm=firm, rig__name="Rig 2").rig
    return Plan(
        site=site,
        surfaces=[surface],
        planned_at=PLANNED_AT,
        people=[member.person],
        products=[PlannedProduct(lot.label.product, lot, Quantity("1.5", "gal"))],
        diluent=Quantity("13.5", "gal"),
        rig=rig,
        targets=["moss"],
    )


@pytest.fixture
def draft(firm, member, plan) -> Treatment:
    return plan_treatment(firm, member.user, plan)


@pytest.fixture
def done(draft, member) -> Treatment:
    """The draft with the work written in."""
    mix = draft.document["mixes"][0]["id"]
    typed = {
        "record.result": "treated",
        "timing.started_at": "2026-09-14T09:12:00-07:00",
        "timing.finished_at": "2026-09-14T09:47:00-07:00",
        f"mixes[{mix}].applied": "14 gal",
    }
    edits = [Edit(path, path, value, draft.revision) for path, value in typed.items()]
    assert not edit_draft(draft, edits, member.user).unread
    return draft
