"""Where something is missing of a person the pages say what, of whom by address, and where it is entered."""

import html
import re

import pytest
from django.urls import reverse

pytestmark = pytest.mark.django_db


@pytest.fixture
def unmeasured(neighbours):
    """Of Lark and Wren the distance is not known."""
    for one in neighbours[:2]:
        one.distance = None
        one.save()
    return neighbours[:2]


def page(client, name, lawn) -> str:
    answer = client.get(reverse(name, kwargs={"uuid": lawn.pk}))
    return html.unescape(answer.content.decode())


@pytest.mark.parametrize("name", ["notices", "prepare_notices"])
def test_what_is_to_be_entered_is_said_with_the_addresses_and_not_put_down_to_the_records(
    client, office, lawn, unmeasured, name
):
    client.force_login(office.user)
    said = page(client, name, lawn)
    assert "Of 2 more it can't be told before this is entered: Distance: 2 Heron Row, 6 Heron Row." in said
    assert "which no record can show" not in said


def test_each_is_shown_with_the_way_to_enter_it_and_none_by_a_number_in_no_list(
    client, office, lawn, unmeasured
):
    client.force_login(office.user)
    said = page(client, "notices", lawn)
    for row in unmeasured:
        assert reverse("neighbour", kwargs={"site": lawn.site_id, "row": row.pk}) in said
    assert "before this is entered: Distance." in said
    assert not re.search(r"Neighbour \d", said)


def test_a_crew_that_may_enter_nothing_is_led_nowhere(client, member, lawn, unmeasured):
    member.role = "crew"
    member.save()
    client.force_login(member.user)
    said = page(client, "notices", lawn)
    assert "before this is entered: Distance." in said
    assert reverse("neighbour", kwargs={"site": lawn.site_id, "row": unmeasured[0].pk}) not in said


def test_who_can_be_told_in_no_way_is_shown_with_the_way_to_enter_one(client, office, lawn, neighbours):
    wren = neighbours[1]
    wren.line1 = wren.city = wren.region = wren.postcode = wren.country = ""
    wren.save()
    client.force_login(office.user)
    said = page(client, "prepare_notices", lawn)
    there = reverse("neighbour", kwargs={"site": lawn.site_id, "row": wren.pk})
    assert f'<a href="{there}">Enter an e-mail' in said
