"""A new item that a device asks for under an id of its own stands once, however often it is asked for."""

from datetime import timedelta

import pytest
import time_machine
from django.urls import reverse

from records.document.edits import Edit
from records.services.drafts import edit_draft
from tests.records.pages.test_chosen_away import NOON
from tests.records.services.test_drafts import reread

ID = "0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11"
READINGS, PERMITS = "weather.readings", "permits"
READING = f"{READINGS}[{ID}]"


@pytest.fixture(autouse=True)
def noon(client, member):
    client.force_login(member.user)
    with time_machine.travel(NOON, tick=False) as clock:
        yield clock


def send(client, draft, section: str, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": section})
    page = {"base_revision": str(draft.revision), "form": "f"}
    return client.post(address, page | fields, headers={"HX-Request": "true"})


def add(client, draft, section: str, path: str, told: str = ID):
    return send(client, draft, section, **{"add": path, "add-as": told})


def readings(draft) -> list[dict]:
    return reread(draft).document.get("weather", {}).get("readings", [])


def test_a_reading_that_is_asked_for_twice_stands_once_under_the_id_that_was_told(client, draft):
    for _ in range(2):
        add(client, draft, "spray", READINGS)
    assert [each["id"] for each in readings(draft)] == [ID]


def test_one_of_a_list_without_ids_that_is_asked_for_twice_stands_once(client, draft):
    before = len(draft.document.get(PERMITS, []))
    for _ in range(2):
        add(client, draft, "arrive", PERMITS)
    assert len(reread(draft).document[PERMITS]) == before + 1


def test_the_device_that_never_heard_of_it_begins_the_same_one_and_its_time_counts(client, draft, noon):
    add(client, draft, "spray", READINGS)
    noon.shift(timedelta(minutes=3))
    at = {f"was:{READING}.at": '["", ""]', f"d:{READING}.at": "2026-09-14", f"t:{READING}.at": "09:20"}
    wind = {f"was:{READING}.wind_speed": '["", "mph"]', f"v:{READING}.wind_speed": "4"}
    answer = send(client, draft, "spray", begin=READING, **at, **wind, **{f"u:{READING}.wind_speed": "mph"})
    assert "conflict" not in answer.text
    (reading,) = readings(draft)
    assert reading == {
        "id": ID,
        "at": "2026-09-14T09:20:00-07:00",
        "wind_speed": {"value": "4", "unit": "mph"},
    }


def test_one_that_was_taken_out_since_does_not_come_back(client, draft, member):
    add(client, draft, "spray", READINGS)
    now = reread(draft)
    edit_draft(now, [Edit("away", READING, None, now.revision)], member.user)
    add(client, draft, "spray", READINGS)
    assert readings(draft) == []


@pytest.mark.parametrize("told", ["", "first", ID.upper(), f"{ID}]"])
def test_an_id_that_is_none_adds_one_under_an_id_of_the_service(client, draft, told):
    add(client, draft, "spray", READINGS, told)
    (reading,) = readings(draft)
    assert reading["id"] not in ("", told)
