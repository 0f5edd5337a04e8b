"""The hour that comes twice when the clocks are put back: what is typed by hand in it is asked about."""

import re
from html import unescape

import pytest
from django.urls import reverse

from records.models import Treatment
from tests.records.pages.test_offered_and_undone import write
from tests.records.services.test_drafts import reread

START = "timing.started_at"
ASKS = "The clocks were put back and showed this time twice. Say which is meant."


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def address(treatment: Treatment) -> str:
    return reverse("section", kwargs={"uuid": treatment.pk, "section": "spray"})


def post(client, draft, time: str, **more: str):
    page = {"base_revision": str(reread(draft).revision), "form": "f", f"was:{START}": '["2026-11-01", ""]'}
    page |= {f"d:{START}": "2026-11-01", f"t:{START}": time}
    return client.post(address(draft), page | more, headers={"HX-Request": "true"})


def started(draft: Treatment) -> str | None:
    return reread(draft).document["timing"].get("started_at")


def test_a_time_that_came_twice_is_asked_about_and_not_taken_as_the_first(client, draft):
    answer = unescape(post(client, draft, "01:30").text)
    assert ASKS in answer
    assert "The first, before the clocks were put back (UTC-07:00)" in answer
    assert "The second, after they were put back (UTC-08:00)" in answer
    assert started(draft) is None
    assert ASKS in unescape(client.get(address(draft)).text)


@pytest.mark.parametrize("offset", ["-07:00", "-08:00"])
def test_what_was_meant_is_kept_and_shown_again(client, draft, offset):
    answer = post(client, draft, "01:30", **{f"o:{START}": offset})
    assert ASKS not in unescape(answer.text)
    assert started(draft) == f"2026-11-01T01:30:00{offset}"
    assert re.search(rf'name="o:{START}" value="{offset}" checked', client.get(address(draft)).text)


def test_a_page_that_shows_the_second_hour_leaves_it(client, draft, member):
    write(draft, member, **{START: "2026-11-01T01:30:00-08:00"})
    was = unescape(re.search(rf'name="was:{START}" value="([^"]+)"', client.get(address(draft)).text)[1])
    post(client, draft, "01:30", **{f"o:{START}": "-08:00", f"was:{START}": was})
    assert started(draft) == "2026-11-01T01:30:00-08:00"


def test_other_times_are_not_asked_about_whatever_offset_comes_with_them(client, draft):
    answer = post(client, draft, "02:30", **{f"o:{START}": "-07:00"})
    assert 'name="o:' not in answer.text
    assert started(draft) == "2026-11-01T02:30:00-08:00"
