"""What the form offers to save typing, and what it takes back: all by its buttons alone, without scripts."""

import re
from dataclasses import replace
from datetime import timedelta
from html import unescape

import pytest
from django.urls import reverse

from records.document.edits import Edit
from records.models import Treatment, TreatmentEdit
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from tests.factories import LotFactory
from tests.records.services.test_drafts import reread

READING = "weather.readings[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11]"


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def address(treatment: Treatment, slug: str) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": slug})


def press(client, treatment: Treatment, slug: str, **fields: str):
    page = {"base_revision": str(reread(treatment).revision), "form": "f"}
    return client.post(address(treatment, slug), {**page, **fields})


def write(treatment: Treatment, member, **values: object) -> None:
    treatment = reread(treatment)
    edits = [Edit(path, path, value, treatment.revision) for path, value in values.items()]
    assert not edit_draft(treatment, edits, member.user).unread


@pytest.fixture
def reading(draft, member) -> Treatment:
    write(draft, member, **{READING: {"at": "2026-09-14T09:05:00-07:00"}})
    return reread(draft)


@pytest.fixture
def before(firm, member, plan, draft) -> Treatment:
    """The day before, by the same person."""
    yesterday = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at - timedelta(days=1)))
    person = yesterday.document["people"][0]["id"]
    values = {f"people[{person}].tasks": ["sprayed"], f"people[{person}].ppe": ["gloves", "boots"]}
    write(yesterday, member, **values, **{READING: {"source": "anemometer"}})
    return yesterday


def test_a_force_that_is_seen_fills_in_the_upper_end_in_the_unit_that_is_chosen(client, reading):
    press(client, reading, "weather", **{"see": f"{READING}|4", f"u:{READING}.wind_speed": "km/h"})
    (kept,) = reread(reading).document["weather"]["readings"]
    assert (kept["wind_speed"], kept["source"], kept["calm"]) == (
        {"value": "28", "unit": "km/h"}, "estimate", False,
    )  # fmt: skip
    page = client.get(address(reading, "weather")).text
    assert "Estimated by what is seen: force 4, 20 to 28 km/h. The upper end stands here" in page


def test_calm_air_takes_a_speed_out(client, reading, member):
    write(reading, member, **{f"{READING}.wind_speed": "4 mph"})
    press(client, reading, "weather", see=f"{READING}|0")
    (kept,) = reread(reading).document["weather"]["readings"]
    assert kept["calm"] is True
    assert "wind_speed" not in kept


@pytest.mark.parametrize("seen", [f"{READING}|7", f"{READING}|", "notes|3", "|", "x", f"{READING}|4|4"])
def test_a_force_or_reading_that_there_is_not_fills_in_nothing(client, reading, seen):
    before = reread(reading).document
    press(client, reading, "weather", see=seen)
    assert reread(reading).document == before


def test_how_it_was_the_last_time_is_offered_and_not_assumed(client, draft, before):
    person = draft.document["people"][0]["id"]
    page = client.get(address(draft, "arrive")).text
    assert "As on Sept. 13, 2026: sprayed; chemical-resistant gloves, boots" in page
    assert "ppe" not in reread(draft).document["people"][0]
    press(client, draft, "arrive", **{"as-before": f"people[{person}]"})
    now = reread(draft).document["people"][0]
    assert (now["tasks"], now["ppe"]) == (["sprayed"], ["gloves", "boots"])
    assert "As on Sept. 13, 2026" not in client.get(address(draft, "arrive")).text


def test_what_is_answered_already_stays(client, draft, before, member):
    person = draft.document["people"][0]["id"]
    write(draft, member, **{f"people[{person}].tasks": ["drove"]})
    press(client, draft, "arrive", **{"as-before": f"people[{person}]"})
    now = reread(draft).document["people"][0]
    assert (now["tasks"], now["ppe"]) == (["drove"], ["gloves", "boots"])


def test_what_is_planned_for_the_same_moment_is_not_the_last_time(client, draft, before):
    Treatment.objects.for_firm(draft.firm).filter(pk=before.pk).update(planned_at=draft.planned_at)
    assert "As on" not in client.get(address(draft, "arrive")).text


def test_what_was_taken_out_is_put_back_with_all_that_was_in_it(client, draft, member):
    write(draft, member, **{READING: {"wind_speed": {"value": "4", "unit": "mph"}}})
    answer = press(client, draft, "weather", remove=READING)
    assert "Taken out: Reading 1." in answer.text
    assert not reread(draft).document.get("weather", {}).get("readings")
    token = unescape(re.search(r'name="undo" value="([^"]+)"', answer.text)[1])
    press(client, draft, "weather", undo=token)
    (kept,) = reread(draft).document["weather"]["readings"]
    assert kept["wind_speed"] == {"value": "4", "unit": "mph"}


def test_a_permit_without_an_id_comes_back_too(client, draft, member):
    write(draft, member, permits=[{"number": "A-1"}, {"number": "B-2"}])
    answer = press(client, draft, "arrive", remove="permits[0]")
    token = unescape(re.search(r'name="undo" value="([^"]+)"', answer.text)[1])
    press(client, draft, "arrive", undo=token)
    assert [each["number"] for each in reread(draft).document["permits"]] == ["B-2", "A-1"]


def test_a_tick_that_was_taken_out_comes_back_with_its_time_and_note(client, draft, member):
    step = {"step": "plants-covered", "at": "2026-09-14T08:00:00-07:00", "note": "tarps"}
    path = "protection[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b12]"
    write(draft, member, **{path: step})
    page = {"base_revision": str(reread(draft).revision), "form": "f", "ticks": "protection"}
    page["ticked:protection"] = "plants-covered"
    answer = client.post(address(draft, "protect"), page, headers={"HX-Request": "true"})
    assert "Taken out: plants covered." in answer.text
    assert "protection" not in reread(draft).document
    token = unescape(re.search(r'name="undo" value="([^"]+)"', answer.text)[1])
    press(client, draft, "protect", undo=token)
    (kept,) = reread(draft).document["protection"]
    assert (kept["note"], kept["at"]) == ("tarps", step["at"])


def test_what_was_taken_out_of_one_treatment_is_not_put_into_another(client, draft, before, member):
    write(draft, member, **{READING.replace("11]", "12]"): {"source": "estimate"}})
    answer = press(client, draft, "weather", remove=READING.replace("11]", "12]"))
    token = unescape(re.search(r'name="undo" value="([^"]+)"', answer.text)[1])
    for wrong in (token, token[:-1], "x"):
        press(client, before, "weather", undo=wrong)
    assert len(reread(before).document["weather"]["readings"]) == 1


def test_all_that_was_mixed_is_taken_as_applied_at_a_touch_and_nothing_is_left(client, draft):
    mix = draft.document["mixes"][0]["id"]
    assert "Take 15 gal: all that was mixed, none left" in client.get(address(draft, "spray")).text
    press(client, draft, "spray", take=f"mixes[{mix}].applied")
    mix = reread(draft).document["mixes"][0]
    assert mix["applied"] == {"value": "15", "unit": "gal"}
    assert mix["left_over"] == {"disposition": "none"}
    assert "Take 15 gal" not in client.get(address(draft, "spray")).text


def test_where_something_was_left_the_offer_says_so_and_leaves_it(client, draft, member):
    mix = draft.document["mixes"][0]["id"]
    left = {"amount": {"value": "3", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    write(draft, member, **{f"mixes[{mix}].left_over": left})
    said = client.get(address(draft, "spray")).text
    assert "Take 12 gal: all that was mixed, without what was left" in said
    assert "Take 15 gal" not in said and "gal: all that was mixed, none left" not in said
    press(client, draft, "spray", take=f"mixes[{mix}].applied")
    assert reread(draft).document["mixes"][0]["left_over"] == left


def test_what_another_crew_did_is_not_the_last_time(client, draft, before, member):
    people, rigs = reread(before).document["people"], reread(before).document["equipment"]
    write(
        before,
        member,
        **{f"people[{people[0]['id']}].name": "S. Omeone", f"equipment[{rigs[0]['id']}].name": "9"},
    )
    write(draft, member, **{READING.replace("11]", "12]"): {"at": "2026-09-14T09:05:00-07:00"}})
    assert "As on" not in client.get(address(draft, "weather")).text


def test_a_rig_is_added_with_the_last_one_chosen_already(client, draft, before, member):
    rig = draft.document["equipment"][0]
    assert "selected" not in client.get(address(draft, "mix")).text.partition('name="new:equipment"')[2][:300]
    write(draft, member, **{f"equipment[{rig['id']}]": None})
    chosen = (
        client.get(address(draft, "mix")).text.partition('name="new:equipment"')[2].partition("</select>")[0]
    )
    assert f"selected>{rig['name']}" in chosen


def test_a_lot_on_hand_is_taken_by_its_button(client, draft, plan):
    LotFactory(firm=draft.firm, label=plan.products[0].lot.label, number="L-0500")
    mix = draft.document["mixes"][0]
    path = f"mixes[{mix['id']}].products[{mix['products'][0]['id']}].lot"
    assert "L-0500, 5 gal on hand</button>" in client.get(address(draft, "mix")).text
    press(client, draft, "mix", pick=f"{path}|L-0500")
    assert reread(draft).document["mixes"][0]["products"][0]["lot"] == "L-0500"
    for strange in (f"{path}|", "notes|L-0500", "L-0500", "|"):
        press(client, draft, "mix", pick=strange)
    assert reread(draft).document["mixes"][0]["products"][0]["lot"] == "L-0500"
    assert "notes" not in reread(draft).document


def send_taken(client, treatment: Treatment, **more: str):
    """An offer that a phone took without a connection: its amount, told that it was an offer."""
    mix = treatment.document["mixes"][0]["id"]
    applied = f"mixes[{mix}].applied"
    page = {f"v:{applied}": "15", f"u:{applied}": "gal", f"was:{applied}": '["", "gal"]'}
    return press(client, treatment, "spray", **page, **{f"follows:{applied}": "{}"}, **more)


def test_an_offer_that_was_taken_without_a_connection_says_once_what_follows_from_it(client, draft, member):
    for _ in range(2):
        send_taken(client, draft)
    mix = reread(draft).document["mixes"][0]
    assert (mix["applied"], mix["left_over"]) == ({"value": "15", "unit": "gal"}, {"disposition": "none"})
    path = f"mixes[{mix['id']}].left_over.disposition"
    assert TreatmentEdit.objects.for_firm(draft.firm).filter(treatment=draft, path=path).count() == 1


def test_what_somebody_has_said_meanwhile_of_what_is_left_stands(client, draft, member):
    left = {"amount": {"value": "3", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    write(draft, member, **{f"mixes[{draft.document['mixes'][0]['id']}].left_over": left})
    send_taken(client, draft)
    assert reread(draft).document["mixes"][0]["left_over"] == left


def test_of_an_offer_that_somebody_has_contradicted_meanwhile_nothing_follows_before_it_is_asked(
    client, draft, colleague
):
    mix, base = draft.document["mixes"][0]["id"], draft.revision
    write(draft, colleague, **{f"mixes[{mix}].applied": {"value": "12", "unit": "gal"}})
    answer = send_taken(client, draft, base_revision=str(base))
    assert "This was changed twice. Which is right?" in answer.text
    (mix,) = reread(draft).document["mixes"]
    assert mix["applied"]["value"] == "12" and "left_over" not in mix
