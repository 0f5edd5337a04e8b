"""Planning writes everything known into a numbered draft."""

from datetime import datetime
from decimal import Decimal

import pytest
from django.core.exceptions import PermissionDenied

from records.models import Treatment, TreatmentProduct
from records.services.planning import Plan, PlannedProduct, plan_treatment
from tests.factories import LabelVersionFactory, MembershipFactory, SiteFactory

PLANNED_AT = datetime.fromisoformat("2026-09-14T09:00:00-07:00")


def test_a_planned_treatment_is_a_draft_with_everything_known_written_out(firm, member, plan):
    treatment = plan_treatment(firm, member.user, plan)
    document = treatment.document
    assert treatment.state == Treatment.State.DRAFT
    assert document["timing"] == {"planned_at": "2026-09-14T09:00:00-07:00"}
    assert document["site"]["features"][0]["name"] == "north-west downspout"
    assert document["people"][0]["licences"][0]["number"] == "CO-00231"
    assert document["mixes"][0]["products"][0]["label"]["version"] == "2025-03"
    assert document["equipment"][0]["calibrated_on"] == "2026-09-01"
    # 1200 ft² x sqrt(1 + (6/12)²) = 1341.64 ft²: the right-angled triangle
    assert document["surfaces"][0]["treated_area"] == {"value": "1341.64", "unit": "ft**2"}


def test_the_register_columns_come_from_the_document(firm, member, plan):
    treatment = Treatment.objects.for_firm(firm).get(pk=plan_treatment(firm, member.user, plan).pk)
    assert str(treatment.day) == "2026-09-14"
    assert treatment.site_name == "House, 4 Heron Row"
    assert treatment.customer_name == "A. Marlowe"
    assert treatment.applicators == member.person.name
    assert treatment.products.startswith("Sample Moss Wash (99999-")
    # 1 ft² = 0.09290304 m² exactly (NIST SP 811, B.8)
    assert treatment.treated_area == Decimal("1341.64") * Decimal("0.09290304")
    line = TreatmentProduct.objects.for_firm(firm).get()
    # 1 gal = 3.785411784 L exactly (NIST Handbook 44, appendix C)
    assert line.mixed_volume == Decimal("1.5") * Decimal("3.785411784")
    assert line.applied_volume is None


def test_treatments_are_numbered_by_firm_and_local_year(firm, member, plan, stranger):
    assert [plan_treatment(firm, member.user, plan).number for _ in range(2)] == ["2026-0001", "2026-0002"]
    new_year_in_utc = datetime.fromisoformat("2027-01-01T02:00:00+00:00")
    moved = Plan(site=plan.site, surfaces=plan.surfaces, planned_at=new_year_in_utc)
    assert plan_treatment(firm, member.user, moved).number == "2026-0003"
    theirs = Plan(site=SiteFactory(firm=stranger.firm), surfaces=[], planned_at=PLANNED_AT)
    assert plan_treatment(stranger.firm, stranger.user, theirs).number == "2026-0001"


def test_a_plan_that_names_another_firms_row_is_refused(firm, member, plan, stranger):
    strange = LabelVersionFactory(firm=stranger.firm).product
    crossed = Plan(site=plan.site, surfaces=[], planned_at=PLANNED_AT, products=[PlannedProduct(strange)])
    with pytest.raises(ValueError, match="another firm"):
        plan_treatment(firm, member.user, crossed)
    assert Treatment.objects.for_firm(firm).count() == 0


def test_who_only_reads_cannot_plan(firm, plan):
    reader = MembershipFactory(firm=firm, role="inspector")
    with pytest.raises(PermissionDenied):
        plan_treatment(firm, reader.user, plan)


def test_a_stranger_cannot_plan_for_our_firm(firm, plan, stranger):
    with pytest.raises(PermissionDenied):
        plan_treatment(firm, stranger.user, plan)
