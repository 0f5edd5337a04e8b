"""A mix is drawn from a tank of the day, and yesterday's left-over is offered: by buttons, without scripts."""

import re
from dataclasses import replace
from datetime import timedelta
from html import unescape

import pytest
from django.urls import reverse

from records.document.edits import Edit
from records.models import Batch, Treatment, TreatmentProduct
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.tanks_at_hand import tanks_at_hand
from tests.factories import BatchFactory, RigFactory
from tests.records.services.test_drafts import reread


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


@pytest.fixture
def batch(firm, plan) -> Batch:
    """30 gal at 10 %, mixed in the yard at 08:30 of the day, in the rig of the plan."""
    return BatchFactory(firm=firm, rig=plan.rig)


@pytest.fixture
def yesterday(firm, member, plan, draft) -> Treatment:
    """The day before, of which one gallon was kept."""
    before = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at - timedelta(days=1)))
    mix = before.document["mixes"][0]["id"]
    left = {"amount": {"value": "1", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    edit_draft(before, [Edit("left", f"mixes[{mix}].left_over", left, before.revision)], member.user)
    return before


def page_of(client, draft: Treatment) -> str:
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "mix"})
    return re.sub(r"\s+", " ", unescape(client.get(address).text))


def press(client, draft: Treatment, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "mix"})
    return client.post(address, {"base_revision": str(reread(draft).revision), "form": "f", **fields})


def draw(client, draft: Treatment, key: object, amount: str, unit: str = "gal"):
    path = f"mixes[{draft.document['mixes'][0]['id']}]"
    prefix = f"draw-mixes-{draft.document['mixes'][0]['id']}"
    fields = {f"{prefix}-tank": str(key), f"{prefix}-amount_0": amount, f"{prefix}-amount_1": unit}
    return press(client, draft, draw=path, **fields)


def test_a_tank_of_the_day_is_offered_with_what_is_in_it_and_drawn_from(client, draft, batch):
    assert "Tank filled today at 08:30: Sample Moss Wash 10 %, 30 gal left" in page_of(client, draft)
    assert draw(client, draft, batch.pk, "12").status_code == 200
    (mix,) = reread(draft).document["mixes"]
    (line,) = mix["products"]
    assert (line["amount"], mix["diluent"]["amount"]) == (
        {"value": "1.2", "unit": "gal"}, {"value": "10.8", "unit": "gal"},
    )  # fmt: skip
    assert (line["lot"], line["label"]["version"]) == ("L-0457", "2025-03")
    assert mix["loads"] == [{"volume": {"value": "12", "unit": "gal"}, "batch": str(batch.pk)}]
    assert mix["mixed_at_place"] == "at the yard"
    assert "18 gal left" in page_of(client, draft)


def test_a_second_house_sees_what_the_first_has_left(client, draft, batch, firm, member, plan):
    draw(client, draft, batch.pk, "12")
    second = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at + timedelta(hours=3)))
    assert "18 gal left" in page_of(client, second)


def test_a_tank_that_was_taken_out_meanwhile_is_said(client, draft, batch):
    key = batch.pk
    batch.delete()
    before = reread(draft).document
    said = unescape(draw(client, draft, key, "12").text)
    assert "That tank is there no more: it was emptied or taken out. Enter the products and the water." in said
    assert reread(draft).document == before


def test_an_amount_that_is_missing_is_asked_for_and_nothing_is_written(client, draft, batch):
    before = reread(draft).document
    answer = draw(client, draft, batch.pk, "")
    assert "This field is required." in answer.text
    assert reread(draft).document == before


def test_a_tank_that_there_is_not_is_not_drawn_from(client, draft, batch, stranger):
    theirs = BatchFactory(firm=stranger.firm)
    before = reread(draft).document
    assert draw(client, draft, theirs.pk, "12").status_code == 200
    assert reread(draft).document == before


@pytest.mark.parametrize(
    "change", ["another day", "another rig", "an amount is missing", "nothing of it is left"]
)
def test_of_another_day_or_rig_or_unknown_strength_or_empty_it_is_not_offered(draft, batch, firm, change):
    if change == "another day":
        batch.mixed_at -= timedelta(days=1)
    elif change == "another rig":
        batch.rig = RigFactory(firm=firm, name="Rig 9")
    elif change == "an amount is missing":
        batch.products = [{"name": "Sample Moss Wash"}]
    else:
        batch.volume = replace(batch.volume, value="0")
    batch.save()
    assert tanks_at_hand(draft) == []


def test_yesterdays_left_over_is_offered_with_age_and_product_and_not_assumed(client, draft, yesterday):
    said = "Left over 1 day ago, on Sept. 13, 2026: Sample Moss Wash 10 %, 1 gal"
    assert said in page_of(client, draft)
    assert len(reread(draft).document["mixes"]) == 1


def test_a_left_over_that_is_used_is_a_mix_of_its_own_and_offered_no_more(client, draft, yesterday):
    (tank,) = tanks_at_hand(draft)
    press(client, draft, **{"left-over": tank.key})
    planned, used = reread(draft).document["mixes"]
    assert planned["products"][0]["amount"]["value"] == "1.5"
    assert used["products"][0]["amount"] == {"value": "0.1", "unit": "gal"}
    assert used["loads"] == [{"volume": {"value": "1", "unit": "gal"}, "from_record": yesterday.number}]
    assert used["surfaces"] == [{"surface": "Main roof, north slope"}]
    assert tanks_at_hand(reread(draft)) == []


def test_what_is_left_over_is_taken_from_the_shelf_once(client, draft, yesterday, firm):
    (tank,) = tanks_at_hand(draft)
    press(client, draft, **{"left-over": tank.key})
    lines = TreatmentProduct.objects.for_firm(firm).filter(treatment=draft)
    assert sorted(line.mixed_volume is None for line in lines) == [False, True]


def test_a_left_over_of_a_void_record_or_older_than_two_weeks_is_not_offered(draft, yesterday):
    Treatment.objects.for_firm(draft.firm).filter(pk=yesterday.pk).update(day=draft.day - timedelta(days=15))
    assert tanks_at_hand(draft) == []
    Treatment.objects.for_firm(draft.firm).filter(pk=yesterday.pk).update(day=draft.day, state="void")
    assert tanks_at_hand(draft) == []
