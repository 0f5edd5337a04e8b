"""A day on which nothing or only a part was treated leads to the plan of the day to come back."""

import pytest
from django.urls import reverse

from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from tests.factories import SurfaceFactory
from tests.records.services.test_drafts import reread


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def say(treatment: Treatment, member, **values: object) -> None:
    now = reread(treatment)
    edits = [Edit(path, path, value, now.revision) for path, value in values.items()]
    assert not edit_draft(now, edits, member.user).unread


def begins_with(client, treatment: Treatment, like: object = None) -> dict:
    address = reverse("plan", kwargs={"site": treatment.site_id})
    form = client.get(address, {"like": str(like or treatment.pk)}).context["form"]
    return form.initial


@pytest.mark.parametrize(
    ("result", "leads"), [("stood-down", True), ("part-treated", True), ("treated", False), (None, False)]
)
def test_what_is_unfinished_leads_to_the_plan_of_another_day(client, draft, member, result, leads):
    say(draft, member, **{"record.result": result})
    page = client.get(reverse("treatment", kwargs={"uuid": draft.pk})).text
    assert (f"?like={draft.pk}" in page) is leads


def test_the_plan_begins_with_what_was_planned_before(client, draft, plan):
    begun = begins_with(client, draft)
    assert begun["surfaces"] == [str(surface.pk) for surface in plan.surfaces]
    assert begun["people"] == [str(person.pk) for person in plan.people]
    assert (begun["product"], begun["rig"]) == (str(plan.products[0].product.pk), str(plan.rig.pk))
    assert begun["targets"] == ["moss"]


def test_the_plan_leaves_out_the_surfaces_that_are_done(client, firm, member, plan):
    walk = SurfaceFactory(site=plan.site, firm=firm, name="Front walk", kind="walk")
    plan.surfaces.append(walk)
    treatment = plan_treatment(firm, member.user, plan)
    mix = treatment.document["mixes"][0]["id"]
    amount = {"value": "14", "unit": "gal"}
    on = [{"surface": "Main roof, north slope", "applied": amount}, {"surface": "Front walk"}]
    say(treatment, member, **{f"mixes[{mix}].surfaces": on, "record.result": "part-treated"})
    assert begins_with(client, treatment)["surfaces"] == [str(walk.pk)]


def test_a_treatment_that_is_not_ours_or_of_another_site_begins_nothing(client, draft, stranger):
    for like in ("nonsense", stranger.firm.pk, draft.site_id):
        assert begins_with(client, draft, like) == {}
