"""A tank that was filled in the yard is recorded by the crew, and drawn from by the treatments of the day."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.urls import reverse

from records.models import Batch
from records.services.planning import plan_treatment
from records.tanks_at_hand import tanks_at_hand
from shared import clock
from shared.quantities import Quantity
from tests.factories import LabelVersionFactory, LotFactory
from tests.records.pages.test_drawn import draw

TANKS = reverse("tanks")


@pytest.fixture(autouse=True)
def at_noon(client, member) -> Iterator[None]:
    client.force_login(member.user)
    with clock.at(datetime.fromisoformat("2026-09-14T12:00:00-07:00")):
        yield


@pytest.fixture
def typed(plan) -> dict[str, Any]:
    """What a page sends of 3 gal of product in 27 gal of water."""
    return {
        "told": "one page",
        "rig": str(plan.rig.pk),
        "day": "2026-09-14",
        "time": "08:30",
        "place": "in the yard",
        "product_0": str(plan.products[0].product.pk),
        "lot_0": "L-0457",
        "amount_0_0": "3",
        "amount_0_1": "gal",
        "water_0": "27",
        "water_1": "gal",
    }


def shown(client) -> str:
    return " ".join(unescape(client.get(TANKS).text).split())


def recorded(firm) -> list[Batch]:
    return list(Batch.objects.for_firm(firm))


def test_a_tank_that_is_recorded_is_listed_and_drawn_from_that_day(client, draft, firm, typed):
    answer = client.post(TANKS, typed, follow=True)
    assert "The tank is recorded." in answer.text
    (tank,) = tanks_at_hand(draft)
    assert tank.mix["products"][0]["label"]["version"] == "2025-03"
    assert (tank.rig, tank.whole, tank.mix["mixed_at_place"]) == ("Rig 2", Quantity("30", "gal"), "in the yard")
    page = shown(client)
    assert "08:30 · Rig 2" in page
    assert "30 gal of 30 gal left" in page
    assert "3 gal<br>Lot L-0457<br>Strength of the mix: 10 %" in page
    draw(client, draft, tank.key, "12")
    assert "18 gal of 30 gal left" in shown(client)


def test_two_products_of_which_one_is_weighed_are_in_one_tank(client, firm, typed, plan):
    spreader = LabelVersionFactory(firm=firm, product__name="Sample Spreader").product
    others = {"product_1": str(spreader.pk), "amount_1_0": "1,5", "amount_1_1": "lb"}
    client.post(TANKS, typed | others)
    (tank,) = recorded(firm)
    assert tank.products == [
        {"name": "Sample Moss Wash", "lot": "L-0457", "amount": {"value": "3", "unit": "gal"}},
        {"name": "Sample Spreader", "amount": {"value": "1.5", "unit": "lb"}},
    ]


def test_sent_twice_it_is_one_tank(client, firm, typed):
    for _ in range(2):
        assert client.post(TANKS, typed)["Location"] == TANKS
    assert len(recorded(firm)) == 1
    client.post(TANKS, typed | {"told": "another page"})
    assert len(recorded(firm)) == 2


def test_the_whole_tank_is_as_it_was_read_from_it(client, firm, typed):
    client.post(TANKS, typed | {"volume_0": "31", "volume_1": "gal"})
    (tank,) = recorded(firm)
    assert tank.volume == Quantity("31", "gal")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"volume_0": "35", "volume_1": "gal"}, "Products and water together: 30 gal."),
        ({"amount_0_0": "0", "water_0": "0"}, "nothing was mixed"),
        ({"amount_0_0": ""}, "This field is required."),
        ({"water_0": ""}, "This field is required."),
        ({"lot_1": "L-9"}, "Choose the product."),
        ({"amount_2_0": "2", "amount_2_1": "gal"}, "Choose the product."),
        ({"product_1": "same"}, "Enter how much of it went into the tank."),
        ({"time": "12:01"}, "This time is still to come."),
        ({"lot_0": "L-0999"}, "This lot is of another product."),
        ({"product_0": "theirs"}, "Select a valid choice."),
        ({"told": ""}, "There is a problem"),
        ({"water_0": "1,500"}, "1,500"),
    ],
)
def test_what_cannot_be_is_asked_about_and_nothing_is_recorded(client, firm, typed, stranger, change, said):
    LotFactory(firm=firm, number="L-0999", label__product__name="Sample Lichen Wash")
    strange = LabelVersionFactory(firm=stranger.firm).product
    ids = {"same": typed["product_0"], "theirs": str(strange.pk)}
    answer = client.post(TANKS, typed | {name: ids.get(text, text) for name, text in change.items()})
    assert answer.status_code == 422
    assert said in unescape(answer.text)
    assert recorded(firm) == []


def test_tanks_of_other_days_and_other_firms_are_not_listed(client, firm, typed, stranger):
    client.post(TANKS, typed | {"day": "2026-09-13"})
    assert "No tank was filled today." in shown(client)
    client.post(TANKS, typed | {"told": "another page"})
    client.force_login(stranger.user)
    assert "No tank was filled today." in shown(client)


def test_today_leads_to_the_tanks(client):
    assert f'href="{TANKS}"' in client.get(reverse("home")).text


def test_an_inspector_records_none(client, member, firm, typed):
    member.role = "inspector"
    member.save()
    assert client.post(TANKS, typed).status_code == 403
    assert f'href="{TANKS}"' not in client.get(reverse("home")).text
    assert recorded(firm) == []


def test_a_manager_is_told_of_a_tank_from_which_more_was_drawn_than_was_in_it(
    client, draft, firm, member, colleague, plan, typed
):
    client.post(TANKS, typed)
    (tank,) = tanks_at_hand(draft)
    second = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at + timedelta(hours=3)))
    draw(client, draft, tank.key, "18")
    draw(client, second, tank.key, "15")
    client.force_login(colleague.user)
    said = "drew from it state 3 gal more than the 30 gal that was in it"
    assert said in client.get(reverse("home")).text
    assert said in shown(client)
    with clock.at(clock.now() + timedelta(days=3)):
        assert said not in client.get(reverse("home")).text
