"""A day on which nothing or only a part was treated leads to the plan of the day to come back."""

import re
from datetime import date

import pytest
import time_machine
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
    edits = [Edit(f"{path} said", path, value, now.revision) for path, value in values.items()]
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


def page_for(client, treatment: Treatment):
    return client.get(reverse("plan", kwargs={"site": treatment.site_id}), {"like": str(treatment.pk)})


@pytest.mark.parametrize(
    ("now", "offered"),
    [("2026-09-14T15:00:00-07:00", date(2026, 9, 15)), ("2026-09-18T15:00:00-07:00", date(2026, 9, 21))],
)
def test_a_rained_off_day_is_taken_up_on_the_next_working_day(client, draft, member, now, offered):
    say(draft, member, **{"record.result": "stood-down", "record.why": "rain"})
    with time_machine.travel(now, tick=False):
        page = page_for(client, draft)
    assert page.context["form"].initial["day"] == offered


def test_the_page_says_what_it_is_for_of_which_record_and_why(client, draft, member):
    say(draft, member, **{"record.result": "stood-down", "record.why": "wind"})
    text = page_for(client, draft).text
    assert "<h1>Plan the day to come back</h1>" in text
    assert f"For what treatment {draft.number} of Sept. 14, 2026 left." in text
    assert "Stood down: wind." in text
    assert "Main roof, north slope." in text
    assert "between treatments" not in text


def test_a_surface_that_alone_took_the_whole_mix_is_done(client, firm, member, plan):
    plan.surfaces.append(SurfaceFactory(site=plan.site, firm=firm, name="Front walk", kind="walk"))
    treatment = plan_treatment(firm, member.user, plan)
    mix = treatment.document["mixes"][0]["id"]
    values = {"surfaces": [{"surface": "Front walk"}], "applied": "14 gal"}
    on_walk = {f"mixes[{mix}].{name}": value for name, value in values.items()}
    say(treatment, member, **on_walk, **{"record.result": "part-treated"})
    assert begins_with(client, treatment)["surfaces"] == [str(plan.surfaces[0].pk)]


def test_a_day_that_the_label_does_not_allow_is_not_offered_and_the_wait_is_told(client, done, member):
    say(done, member, **{"record.result": "part-treated"})
    with time_machine.travel("2026-09-14T15:00:00-07:00", tick=False):
        page = page_for(client, done)
    assert "asks for at least 30 days between treatments" in page.text
    assert f"(record {done.number}): not again before Oct. 14, 2026." in page.text
    assert page.context["form"].initial["day"] is None


def test_each_lot_says_of_which_product_it_is(client, draft, plan):
    line = plan.products[0]
    text = client.get(reverse("plan", kwargs={"site": draft.site_id})).text
    assert re.search(rf'<option value="{line.lot.pk}" data-product="{line.product.pk}"', text)


def test_a_wait_that_is_over_is_not_told(client, done, member):
    say(done, member, **{"record.result": "part-treated"})
    with time_machine.travel("2026-10-13T15:00:00-07:00", tick=False):
        page = page_for(client, done)
    assert "between treatments" not in page.text
    assert page.context["form"].initial["day"] == date(2026, 10, 14)
