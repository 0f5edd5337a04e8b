"""Planning on a page."""

from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse

from records.models import Licence, Treatment
from shared import clock
from tests.factories import LotFactory, SurfaceFactory


@pytest.fixture
def typed(plan) -> dict[str, Any]:
    line = plan.products[0]
    return {
        "surfaces": [str(surface.pk) for surface in plan.surfaces],
        "targets": ["moss"],
        "day": "2026-09-14",
        "time": "09:00",
        "product": str(line.product.pk),
        "lot": str(line.lot.pk),
        "amount_0": "1,5",
        "amount_1": "gal",
        "diluent_0": "13.5",
        "diluent_1": "gal",
        "rig": str(plan.rig.pk),
        "people": [str(person.pk) for person in plan.people],
    }


def post(client, plan, typed):
    return client.post(reverse("plan", kwargs={"site": plan.site.pk}), typed)


@pytest.fixture(autouse=True)
def in_september() -> Iterator[None]:
    with clock.at(datetime.fromisoformat("2026-09-10T08:00:00-07:00")):
        yield


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def test_a_plan_is_written_into_a_draft(client, plan, typed):
    answer = post(client, plan, typed)
    treatment = Treatment.objects.for_firm(plan.site.firm).get()
    assert answer["Location"] == reverse("treatment", kwargs={"uuid": treatment.pk})
    assert treatment.document["timing"]["planned_at"] == "2026-09-14T09:00:00-07:00"
    assert treatment.document["mixes"][0]["products"][0]["amount"] == {"value": "1.5", "unit": "gal"}


def test_a_row_that_cannot_stand_in_a_record_is_named(client, plan, typed):
    Licence.objects.for_firm(plan.site.firm).update(authority="WA")
    answer = post(client, plan, typed)
    assert answer.status_code == 422
    assert "us-wa" in answer.content.decode()
    assert not Treatment.objects.for_firm(plan.site.firm).exists()


def test_a_licence_s_authority_is_refused_where_it_is_entered(plan):
    licence = Licence.objects.for_firm(plan.site.firm).get()
    licence.authority = "WA"
    with pytest.raises(ValidationError) as refused:
        licence.full_clean()
    assert list(refused.value.message_dict) == ["authority"]


@pytest.mark.parametrize(
    ("name", "value", "says"),
    [
        ("surfaces", [], "This field is required."),
        ("amount_0", "some", "some"),
        ("day", "soon", "Enter a valid date."),
        ("people", [], "This field is required."),
    ],
)
def test_what_is_wrong_is_said_twice_and_nothing_is_planned(client, plan, typed, name, value, says):
    answer = post(client, plan, {**typed, name: value})
    assert answer.status_code == 422
    assert answer.content.decode().count(says) >= 2
    assert not Treatment.objects.for_firm(plan.site.firm).exists()


def test_a_lot_of_another_product_is_refused(client, plan, typed):
    other = LotFactory(firm=plan.site.firm, label__product__name="Another Moss Wash")
    answer = post(client, plan, {**typed, "lot": str(other.pk)})
    assert "This lot is of another product." in answer.content.decode()


def test_a_surface_of_another_firm_cannot_be_chosen(client, plan, typed, stranger):
    theirs = SurfaceFactory(firm=stranger.firm)
    assert post(client, plan, {**typed, "surfaces": [str(theirs.pk)]}).status_code == 422


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"])
def test_a_day_that_no_document_takes_is_refused_on_the_form(client, plan, typed, day):
    answer = post(client, plan, typed | {"day": day})
    assert "Give a year from 1900 to 2199." in answer.text
    assert not Treatment.objects.for_firm(plan.site.firm).exists()


@pytest.mark.parametrize("day", ["1925-09-14", "2025-09-08", "2027-09-13"])
def test_a_day_more_than_a_year_away_is_asked_about_and_taken_when_it_is_meant(client, plan, typed, day):
    asked = post(client, plan, {**typed, "day": day})
    assert asked.status_code == 422
    page = asked.content.decode()
    assert "This day is more than a year from today. If it is meant, say so below." in page
    assert 'name="day_is_meant"' in page
    assert not Treatment.objects.for_firm(plan.site.firm).exists()
    post(client, plan, {**typed, "day": day, "day_is_meant": "on"})
    planned = Treatment.objects.for_firm(plan.site.firm).get().document["timing"]["planned_at"]
    assert planned.startswith(day)


@pytest.mark.parametrize("day", ["2025-09-09", "2027-09-11"])
def test_a_day_within_a_year_is_not_asked_about(client, plan, typed, day):
    assert "day_is_meant" not in client.get(reverse("plan", kwargs={"site": plan.site.pk})).content.decode()
    post(client, plan, {**typed, "day": day})
    assert Treatment.objects.for_firm(plan.site.firm).exists()
