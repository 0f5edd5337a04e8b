"""A section of the form takes only what a form could have sent."""

import pytest
import time_machine
from django.urls import reverse

from records.document.edits import Edit
from records.document.placing import value_at
from records.services.drafts import edit_draft
from tests.records.services.test_drafts import reread


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def post(client, draft, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "after"})
    page = {"base_revision": str(draft.revision), "form": "f", "v:notes": "dry", "was:notes": '[""]'}
    return client.post(address, {**page, **fields})


@pytest.mark.parametrize("revision", ["²", "9" * 5000, "-1", "soon", ""])
def test_a_revision_that_is_none_counts_as_the_oldest(client, draft, revision):
    post(client, draft, base_revision=revision, **{"base:notes": revision})
    assert reread(draft).document["notes"] == "dry"


def test_brackets_without_end_in_a_hidden_field_count_as_nothing(client, draft):
    post(client, draft, **{"was:notes": "[" * 100_000})
    assert reread(draft).document["notes"] == "dry"


def test_a_text_longer_than_is_kept_stays_on_the_page_with_a_sentence_beside_it(client, draft):
    long = "x" * 30_000
    answer = post(client, draft, **{"v:notes": long})
    assert answer.status_code == 200
    assert "expected at most 20000 characters, got 30000" in answer.text
    assert "<title>Error:" in answer.text
    assert long in answer.text
    assert """name="was:notes" value="[&quot;&quot;]">""" in answer.text
    assert reread(draft).revision == draft.revision


def test_half_of_a_figure_counts_as_nothing(client, draft):
    applied = f"mixes[{draft.document['mixes'][0]['id']}].applied"
    post(client, draft, **{f"v:{applied}": "14", f"was:{applied}": '["", "gal"]'})
    assert reread(draft).document["notes"] == "dry"


def test_what_is_entered_beside_a_text_that_is_too_long_is_saved(client, draft):
    applied = f"mixes[{draft.document['mixes'][0]['id']}].applied"
    fields = {"v:notes": "x" * 30_000, f"v:{applied}": "14", f"u:{applied}": "gal"}
    fields[f"was:{applied}"] = '["", "gal"]'
    answer = post(client, draft, **fields)
    assert "got 30000" in answer.text
    assert reread(draft).document["mixes"][0]["applied"] == {"value": "14", "unit": "gal"}
    assert "notes" not in reread(draft).document


def test_a_script_is_told_beside_the_field_that_a_text_is_too_long(client, draft):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "after"})
    page = {"base_revision": str(draft.revision), "form": "f", "v:notes": "x" * 30_000, "was:notes": '[""]'}
    answer = client.post(address, page, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert "data-refused" in answer.text and "got 30000" in answer.text
    assert "Saved, but for what is marked." in answer.text


def test_where_nothing_can_be_saved_the_page_says_so_and_shows_all_that_was_typed(client, draft, monkeypatch):
    monkeypatch.setattr("records.document.edits.MOST_EDITS", 0)
    answer = post(client, draft, **{"v:notes": "wet by ten"})
    assert answer.status_code == 422
    assert "at once" in answer.text
    assert ">wet by ten</textarea>" in answer.text
    assert """name="was:notes" value="[&quot;&quot;]">""" in answer.text
    assert reread(draft).revision == draft.revision


def test_what_somebody_else_typed_is_not_taken_for_the_signed_in_persons(
    client, draft, colleague
):
    assert post(client, draft, person=str(colleague.user.pk)).status_code == 403
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "after"})
    told = client.post(address, {"person": str(colleague.user.pk)}, headers={"HX-Request": "true"})
    assert told.status_code == 401


def test_more_than_is_taken_at_once_is_answered_with_a_page_that_sends_back(client, draft):
    client.cookies["django_language"] = "es"
    answer = post(client, draft, **{"v:notes": "x" * 3_000_000})
    assert answer.status_code == 400
    assert "Vuelva atrás" in answer.text
    assert reread(draft).revision == draft.revision


def test_what_an_older_page_still_asked_is_taken_though_it_stands_on_another_screen_now(client, draft):
    mix = draft.document["mixes"][0]["id"]
    page = {"base_revision": str(draft.revision), "form": "f", "ticks": "protection"}
    page |= {f"v:mixes[{mix}].applied": "14", f"u:mixes[{mix}].applied": "gal"}
    page["tick:protection"] = "plants-rinsed"
    page[f"was:mixes[{mix}].applied"] = '["", "gal"]'
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "before"})
    answer = client.post(address, page, headers={"HX-Request": "true"})
    assert f'id="r-mixes-{mix}-applied"' in answer.text
    document = reread(draft).document
    assert document["mixes"][0]["applied"] == {"value": "14", "unit": "gal"}
    assert [step["step"] for step in document["protection"]] == ["plants-rinsed"]


@pytest.mark.parametrize(("old", "new"), [("site", "arrive"), ("before", "protect"), ("during", "spray")])
def test_a_screen_is_found_under_its_old_address(client, draft, old, new):
    where = {slug: reverse("section", kwargs={"uuid": draft.pk, "section": slug}) for slug in (old, new)}
    answer = client.get(where[old])
    assert (answer.status_code, answer["Location"]) == (301, where[new])


def test_a_step_that_is_ticked_on_one_screen_is_not_taken_out_by_the_other(client, draft):
    for slug, word in (("after", "plants-rinsed"), ("protect", "storm-drains-covered")):
        page = {"base_revision": str(reread(draft).revision), "form": slug, "ticks": "protection"}
        address = reverse("section", kwargs={"uuid": draft.pk, "section": slug})
        client.post(address, page | {"tick:protection": word})
    steps = reread(draft).document["protection"]
    assert {step["step"] for step in steps} == {"plants-rinsed", "storm-drains-covered"}


NEW = "weather.readings[0a6c1f5d-2b11-4f7e-9a53-0000000000ff]"


def send_reading(client, draft, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "weather"})
    page = {"base_revision": "0", "form": "f", "begin": NEW}
    page |= {f"v:{NEW}.wind_speed": "5", f"u:{NEW}.wind_speed": "mph", f"was:{NEW}.wind_speed": '["", "mph"]'}
    return client.post(address, {**page, **fields})


def test_a_reading_that_a_device_has_begun_is_begun_once_with_what_was_typed_into_it(client, draft):
    for _ in range(2):
        send_reading(client, draft)
    (reading,) = reread(draft).document["weather"]["readings"]
    assert reading["wind_speed"] == {"value": "5", "unit": "mph"}


def test_a_reading_that_was_removed_since_does_not_come_back(client, draft, member):
    send_reading(client, draft)
    draft = reread(draft)
    edit_draft(draft, [Edit("gone", NEW, None, draft.revision)], member.user)
    send_reading(client, draft)
    assert not reread(draft).document["weather"].get("readings")


@pytest.mark.parametrize(
    "path", ["weather.readings[1]", "people[0a6c1f5d-2b11-4f7e-9a53-0000000000ff]", "notes[", "x", ""]
)
def test_nothing_else_can_be_begun_by_a_device(client, draft, path):
    before = reread(draft).document
    send_reading(client, draft, begin=path)
    assert reread(draft).document == before


def test_an_item_into_which_nothing_is_typed_is_not_begun(client, draft):
    send_reading(client, draft, **{f"v:{NEW}.wind_speed": ""})
    assert "weather" not in reread(draft).document


@pytest.mark.parametrize(
    "at", ["0001-01-01T00:00:00Z", "1900-01-01T00:00:00Z", "9999-12-31T23:59:59Z", "noonish"]
)
def test_a_tick_of_an_impossible_moment_was_made_now(client, draft, at):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "protect"})
    page = {"base_revision": str(draft.revision), "form": "f", "ticks": "protection"}
    page |= {"tick:protection": "storm-drains-covered", "tick-at:protection:storm-drains-covered": at}
    with time_machine.travel("2026-09-14T09:00:00-07:00", tick=False):
        assert client.post(address, page).status_code == 302
    (step,) = reread(draft).document["protection"]
    assert step["at"] == "2026-09-14T09:00:00-07:00"


def test_a_reading_that_is_added_begins_now(client, draft):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "weather"})
    with time_machine.travel("2026-09-14T09:00:00-07:00", tick=False):
        client.post(address, {"base_revision": str(draft.revision), "form": "f", "add": "weather.readings"})
    (reading,) = reread(draft).document["weather"]["readings"]
    assert reading["at"] == "2026-09-14T09:00:00-07:00"


@pytest.mark.parametrize(("offered", "is_redrawn"), [("", False), ("2026-09-14T12:00:00-07:00", True)])
def test_a_field_is_drawn_anew_when_something_else_is_offered_than_it_shows(client, done, offered, is_redrawn):
    """The label of this product says nothing of re-entry, so nothing is offered now."""
    address = reverse("section", kwargs={"uuid": done.pk, "section": "after"})
    path = "timing.reentry_at"
    page = {"base_revision": str(done.revision), "form": "f", f"offer:{path}": offered}
    page |= {f"d:{path}": "2026-09-14", f"t:{path}": "", f"was:{path}": '["2026-09-14", ""]'}
    answer = client.post(address, page, headers={"HX-Request": "true"}).content.decode()
    assert ("outerHTML:#f-timing-reentry-at" in answer) is is_redrawn


def test_humidity_is_asked_in_percent_and_what_stands_in_another_unit_keeps_it(client, draft, member):
    where = reverse("section", kwargs={"uuid": draft.pk, "section": "weather"})
    chance = "weather.forecast.rain_probability"
    assert 'value="ppm"' not in client.get(where).text
    now = reread(draft)
    edit_draft(now, [Edit("p", chance, {"value": "5000", "unit": "ppm"}, now.revision)], member.user)
    page = client.get(where).text
    assert f'name="u:{chance}" value="ppm" checked' in page
    assert page.count('value="ppm"') == 1


PAUSE = "timing.pauses[0a6c1f5d-2b11-4f7e-9a53-0000000000fa]"
INCIDENT = "incidents[0a6c1f5d-2b11-4f7e-9a53-0000000000fb]"


@pytest.mark.parametrize(("slug", "path", "asks"), [("spray", PAUSE, "note"), ("after", INCIDENT, "action")])
def test_a_pause_and_an_incident_that_a_device_has_begun_are_there_once(client, draft, slug, path, asks):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": slug})
    page = {"base_revision": "0", "form": "f", "begin": path}
    for _ in range(2):
        client.post(address, page | {f"v:{path}.{asks}": "rain", f"was:{path}.{asks}": '[""]'})
    (item,) = value_at(reread(draft).document, path.partition("[")[0])
    assert item == {"id": path[-37:-1], asks: "rain"}


def test_an_incident_stands_though_somebody_has_said_meanwhile_that_nothing_went_wrong(
    client, draft, colleague
):
    edit_draft(draft, [Edit("none", "incidents", [], draft.revision)], colleague.user)
    assert reread(draft).document["incidents"] == []
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "after"})
    page = {"base_revision": "0", "form": "f", "begin": INCIDENT}
    client.post(address, page | {f"v:{INCIDENT}.action": "rinsed", f"was:{INCIDENT}.action": '[""]'})
    assert [each["action"] for each in reread(draft).document["incidents"]] == ["rinsed"]


@pytest.mark.parametrize(
    ("day", "time"), [("9999-12-31", "23:59"), ("0001-01-01", "00:00"), ("1899-12-31", "12:00")]
)
def test_a_start_in_an_impossible_year_is_told_beside_the_field_and_the_treatment_can_be_opened(
    client, draft, day, time
):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "spray"})
    path = "timing.started_at"
    page = {"base_revision": str(draft.revision), "form": "f", f"was:{path}": '["2026-09-14", ""]'}
    page |= {f"d:{path}": day, f"t:{path}": time}
    said = "Give a year from 1900 to 2199."
    assert said in client.post(address, page).text
    form = client.get(address)
    assert said in form.text and f'value="{day}"' in form.text and f'value="{time}"' in form.text
    assert said in client.get(reverse("treatment", kwargs={"uuid": draft.pk})).text
    assert client.get(reverse("sign", kwargs={"uuid": draft.pk})).status_code in (200, 302)
    assert client.post(address, page, headers={"HX-Request": "true"}).status_code == 200


@pytest.mark.parametrize(
    "at", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00", "9999-12-31T23:59:59Z"]
)
def test_a_moment_out_of_the_calendar_that_came_by_another_way_can_be_shown(client, draft, member, at):
    edit_draft(draft, [Edit("e", "timing.started_at", at, draft.revision)], member.user)
    address = reverse("section", kwargs={"uuid": draft.pk, "section": "spray"})
    assert "Give a year from 1900 to 2199." in client.get(address).text
    assert client.get(reverse("treatment", kwargs={"uuid": draft.pk})).status_code == 200
    assert "expected a year from 1900 to 2199" in reread(draft).unread["timing.started_at"]["fault"]["en"]


def test_two_texts_of_the_notes_can_both_be_kept_one_after_the_other(client, draft, colleague):
    edit_draft(draft, [Edit("e", "notes", "Gate left open.", draft.revision)], colleague.user)
    asked = post(client, draft, base_revision="0", **{"v:notes": "Dog in the yard."})
    assert "Both: the other, then mine" in asked.text
    typed, asked_of = "Dog in the yard.", '["Dog in the yard."]'
    kept = {"v:notes": typed, "mine:notes": asked_of, "was:notes": '["Gate left open."]', "keep-both": "notes"}
    answer = post(client, reread(draft), **kept)
    assert answer.status_code in (200, 302)
    assert reread(draft).document["notes"] == "Gate left open.\n\nDog in the yard."
