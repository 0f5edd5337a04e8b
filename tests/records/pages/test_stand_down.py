"""A treatment is stood down by one button with its reason, and that is taken back on the treatment's page."""

import pytest
import time_machine
from django.urls import reverse

from compliance.services.signing import prepare, sign_treatment
from records.models import Treatment
from records.services.to_sign import Signer
from tests.factories import PASSWORD
from tests.records.services.test_drafts import reread

READING = "weather.readings[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11]"


def stand_down(client, treatment: Treatment, slug: str = "stand-down", htmx: bool = False, **fields: str):
    address = reverse("section", kwargs={"uuid": treatment.pk, "section": slug})
    page = {"base_revision": str(reread(treatment).revision), "form": "f", "stand-down": "wind"}
    return client.post(address, {**page, **fields}, headers={"HX-Request": "true"} if htmx else {})


@pytest.mark.parametrize("htmx", [False, True])
def test_one_button_says_why_and_goes_on_to_the_signature(client, draft, member, htmx):
    client.force_login(member.user)
    answer = stand_down(client, draft, htmx=htmx)
    assert answer["HX-Redirect" if htmx else "Location"] == reverse("sign", kwargs={"uuid": draft.pk})
    assert (
        reread(draft).document["record"] | {"result": "stood-down", "why": "wind"}
        == (reread(draft).document["record"])
    )


def test_who_may_not_sign_goes_back_to_the_treatment(client, draft, member):
    member.role = "office"
    member.save()
    client.force_login(member.user)
    assert stand_down(client, draft)["Location"] == reverse("treatment", kwargs={"uuid": draft.pk})


def test_the_wind_that_was_entered_on_the_page_is_in_the_record(client, draft, member):
    client.force_login(member.user)
    typed = {f"v:{READING}.wind_speed": "18", f"u:{READING}.wind_speed": "mph"}
    was = {f"was:{READING}.wind_speed": '["", "mph"]'}
    stand_down(client, draft, begin=READING, **typed, **was)
    (reading,) = reread(draft).document["weather"]["readings"]
    assert reading["wind_speed"] == {"value": "18", "unit": "mph"}


def test_without_a_reading_none_is_begun(client, draft, member):
    client.force_login(member.user)
    stand_down(client, draft, begin=READING)
    assert "weather" not in reread(draft).document


@time_machine.travel("2026-09-14T09:20:00-07:00", tick=False)
def test_a_wind_that_is_seen_begins_the_reading_of_now(client, draft, member):
    client.force_login(member.user)
    stand_down(client, draft, begin=READING, **{"stand-down": "", "see": f"{READING}|6"})
    (reading,) = reread(draft).document["weather"]["readings"]
    assert (reading["at"], reading["source"]) == ("2026-09-14T09:20:00-07:00", "estimate")


@pytest.mark.parametrize(("slug", "why"), [("after", "wind"), ("stand-down", "boredom"), ("stand-down", "")])
def test_on_another_screen_or_for_another_reason_nothing_is_stood_down(client, draft, member, slug, why):
    client.force_login(member.user)
    stand_down(client, draft, slug, **{"stand-down": why})
    assert "result" not in reread(draft).document["record"]


def test_a_stand_down_is_taken_back(client, draft, member):
    client.force_login(member.user)
    stand_down(client, draft)
    assert "take_back" in client.get(reverse("treatment", kwargs={"uuid": draft.pk})).text
    client.post(reverse("stand_down", kwargs={"uuid": draft.pk}), {"take_back": "yes"})
    assert {"result", "why"} & set(reread(draft).document["record"]) == set()


def test_a_record_that_is_signed_is_shown_instead_of_the_page_that_would_stand_it_down(client, done, member):
    client.force_login(member.user)
    address = reverse("stand_down", kwargs={"uuid": done.pk})
    form = reverse("section", kwargs={"uuid": done.pk, "section": "stand-down"})
    assert client.get(address)["Location"] == form
    findings = prepare(done, Signer(member.user)).open_findings
    reasons = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(done, member.user, PASSWORD, reasons)
    for role in ("crew", "office"):
        member.role = role
        member.save()
        assert client.get(address)["Location"] == reverse("treatment", kwargs={"uuid": done.pk})


def test_a_stand_down_ends_where_it_is_signed_and_says_so(client, draft, member):
    client.force_login(member.user)
    stand_down(client, draft)
    page = client.get(reverse("sign", kwargs={"uuid": draft.pk})).text
    assert "<strong>Stood down: wind.</strong>" in page


def test_treated_after_all_takes_the_reason_out_without_scripts_too(client, draft, member):
    client.force_login(member.user)
    stand_down(client, draft)
    page = {"base_revision": str(reread(draft).revision), "form": "g"}
    result = {"was:record.result": '["stood-down"]', "v:record.result": "treated"}
    why = {"was:record.why": '["wind"]', "v:record.why": "wind"}
    client.post(reverse("section", kwargs={"uuid": draft.pk, "section": "after"}), {**page, **result, **why})
    assert reread(draft).document["record"]["result"] == "treated"
    assert "why" not in reread(draft).document["record"]
