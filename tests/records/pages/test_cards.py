"""The roadside page and the medical card: what they show, to whom, and what they never show."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.services.signing import prepare, sign_treatment
from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from shared import clock
from tests.factories import PASSWORD, BatchFactory


@pytest.fixture
def today(firm, member, plan) -> Treatment:
    return plan_treatment(firm, member.user, replace(plan, planned_at=clock.now()))


def shown(client, member, name: str, **kwargs: object) -> str:
    client.force_login(member.user)
    answer = client.get(reverse(name, kwargs=kwargs))
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_roadside_page_shows_licences_tank_and_label(client, member, today):
    page = shown(client, member, "roadside")
    for said in ("R. Osei", "CO-00231", "Sample Moss Wash", "1.5 gal", "10 %", "13.5 gal", "L-0457", "sha256:"):
        assert said in page, said


def test_the_roadside_page_shows_no_customer_and_no_address(client, member, today):
    page = shown(client, member, "roadside")
    address = today.document["site"]["address"]
    hidden = [today.customer_name, today.site_name, *(address[name] for name in ("line1", "city", "postcode"))]
    assert [text for text in hidden if text in page] == []


def test_what_is_stood_down_is_in_no_tank(client, member, today):
    edit_draft(today, [Edit("s", "record.result", "stood-down", today.revision)], member.user)
    assert "No mix is planned or made for today." in shown(client, member, "roadside")


def test_who_is_on_no_treatment_of_the_day_sees_those_of_the_firm(client, colleague, today):
    assert "Sample Moss Wash" in shown(client, colleague, "roadside")


def test_another_firms_tanks_are_not_seen(client, stranger, today):
    assert "Sample Moss Wash" not in shown(client, stranger, "roadside")


def test_an_inspector_has_no_roadside_page_of_a_firm(client, member, today):
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    assert client.get(reverse("roadside")).status_code == 403


def test_the_medical_card_says_what_was_sprayed_how_strong_and_whom_to_call(client, member, done):
    page = shown(client, member, "medical", uuid=done.pk)
    for said in ("Sample Moss Wash", "10 %", "1-800-222-1222", "tel:18002221222", "911", "Sprayed from"):
        assert said in page, said


def test_the_medical_card_names_no_customer(client, member, done):
    assert done.customer_name not in shown(client, member, "medical", uuid=done.pk)


def test_a_label_without_words_of_first_aid_sends_to_the_container(client, member, done):
    assert "Read those on the container" in shown(client, member, "medical", uuid=done.pk)


def test_what_the_label_says_of_first_aid_stands_on_both_cards(client, member, plan):
    label = plan.products[0].lot.label
    label.label = {**label.label, "statements": ["If in eyes: rinse slowly with water."]}
    label.save()
    today = plan_treatment(plan.site.firm, member.user, replace(plan, planned_at=clock.now()))
    for page in (shown(client, member, "medical", uuid=today.pk), shown(client, member, "roadside")):
        assert "If in eyes: rinse slowly with water." in page


def test_the_cards_are_a_touch_away_from_today_the_treatment_and_the_record(client, member, done):
    card = reverse("medical", kwargs={"uuid": done.pk})
    assert reverse("roadside") in shown(client, member, "home")
    assert card in shown(client, member, "treatment", uuid=done.pk)
    findings = prepare(done, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, answers)
    assert card in shown(client, member, "treatment", uuid=done.pk)


def test_another_firms_medical_card_is_not_there(client, stranger, done):
    client.force_login(stranger.user)
    assert client.get(reverse("medical", kwargs={"uuid": done.pk})).status_code == 404


def test_both_cards_speak_spanish(client, member, today):
    client.cookies["django_language"] = "es"
    assert "Línea de envenenamientos" in shown(client, member, "medical", uuid=today.pk)
    assert "En el tanque hoy" in shown(client, member, "roadside")


def test_a_phone_keeps_the_roadside_page_and_the_card_of_each_treatment(client, member, today):
    client.force_login(member.user)
    pages = [page["address"] for page in client.get(reverse("to_keep")).json()["pages"]]
    assert {reverse("roadside"), reverse("medical", kwargs={"uuid": today.pk})} <= set(pages)


def said_of(page: str, heading: str) -> str:
    """What stands under a heading of the page."""
    return page.partition(f"<h2>{heading}</h2>")[2].partition("<h2>")[0]


def test_what_is_only_planned_is_in_no_tank_yet(client, member, today):
    page = shown(client, member, "roadside")
    assert "By the records nothing is in a tank now." in said_of(page, "In the tank today")
    assert "Sample Moss Wash" in said_of(page, "Planned for today")


def written(treatment: Treatment, member, **values: object) -> Treatment:
    mix = treatment.document["mixes"][0]["id"]
    edits = [
        Edit(name, name.replace("__", ".").replace("mix.", f"mixes[{mix}]."), value, treatment.revision)
        for name, value in values.items()
    ]
    assert not edit_draft(treatment, edits, member.user).unread
    return treatment


def test_a_tank_that_is_being_sprayed_holds_what_was_not_sprayed_yet(client, member, today):
    started = clock.now().isoformat(timespec="seconds")
    written(today, member, timing__started_at=started, mix__applied="4 gal")
    inside = said_of(shown(client, member, "roadside"), "In the tank today")
    assert "<dt>In it now</dt><dd>11 gal</dd>" in inside


def test_what_was_sprayed_out_is_said_to_be_sprayed_and_is_in_no_tank(client, member, today):
    written(today, member, record__result="treated", mix__applied="15 gal")
    page = shown(client, member, "roadside")
    assert "Sample Moss Wash" not in said_of(page, "In the tank today")
    assert "15 gal sprayed" in said_of(page, "Sprayed today")


def test_what_went_elsewhere_is_in_no_tank(client, member, today):
    elsewhere = {"amount": {"value": "2", "unit": "gal"}, "disposition": "taken-to-hazardous-waste"}
    written(today, member, record__result="treated", mix__applied="13 gal", mix__left_over=elsewhere)
    page = shown(client, member, "roadside")
    assert "Sample Moss Wash" not in said_of(page, "In the tank today")
    assert "taken to hazardous waste" in said_of(page, "Sprayed today")


def test_a_left_over_that_was_kept_is_in_the_tank_also_on_the_next_days(client, member, plan, today):
    kept = {"amount": {"value": "3", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    earlier = replace(plan, planned_at=clock.now() - timedelta(days=2))
    before = plan_treatment(plan.site.firm, member.user, earlier)
    written(before, member, record__result="treated", mix__applied="12 gal", mix__left_over=kept)
    inside = said_of(shown(client, member, "roadside"), "In the tank today")
    assert f"Left over from record {before.number}" in inside
    for said in ("<dt>In it now</dt><dd>3 gal</dd>", "Sample Moss Wash", "0.3 gal", "10 %", "L-0457"):
        assert said in inside, said


def test_a_left_over_without_an_amount_is_in_the_tank_all_the_same(client, member, today):
    kept = {"disposition": "kept-labelled-for-next-treatment"}
    written(today, member, record__result="treated", mix__left_over=kept)
    inside = said_of(shown(client, member, "roadside"), "In the tank today")
    assert "A left-over was kept; its amount is not recorded." in inside


def test_a_shared_tank_holds_what_nobody_has_drawn(client, member, plan, today):
    BatchFactory(firm=plan.site.firm, rig=plan.rig, mixed_at=clock.now())
    inside = said_of(shown(client, member, "roadside"), "In the tank today")
    assert "Shared tank, filled today" in inside
    assert "<dt>In it now</dt><dd>30 gal</dd>" in inside


def test_the_roadside_page_names_places_and_speaks_the_readers_language(client, member, today):
    assert "commercial operator <strong>CO-00231</strong>, Washington" in shown(client, member, "roadside")
    client.cookies["django_language"] = "es"
    page = shown(client, member, "roadside")
    assert "operador comercial (commercial operator)" in page
    assert "<dt>agua</dt>" in page
