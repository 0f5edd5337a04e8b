"""Pictures of a search: what they tell stands in the tables beside them, added up from what was found."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from records.models import Treatment, TreatmentProduct
from records.register_search import treatments_of
from records.register_sums import Found, by_step, found_rows, rules_open, used, winds
from records.services.planning import plan_treatment
from records.services.projection import set_found

DAYS = [date(2026, 9, 14), date(2026, 9, 16), date(2026, 9, 30), date(2026, 10, 1)]
OPEN = [{"us-wa/wind"}, {"us-wa/wind"}, {"us-wa/lot"}, set()]


@pytest.fixture
def four(firm, member, plan) -> list[Treatment]:
    """Two in one week, one a fortnight later, one in the next month; all signed but the last."""
    made = [plan_treatment(firm, member.user, plan) for _day in DAYS]
    for number, (treatment, day) in enumerate(zip(made, DAYS, strict=True)):
        set_found(treatment, OPEN[number], (), None)
        treatment.day, treatment.state = day, "draft" if number == 3 else "signed"
        treatment.strongest_wind, treatment.wind_limit = Decimal(number + 1), Decimal("1.5")
        treatment.save()
        TreatmentProduct.objects.for_firm(firm).filter(treatment=treatment).update(
            applied_volume=Decimal("3.785411784") * (number + 1)
        )
    return made


def tables(page) -> dict[str, list[tuple[str, ...]]]:
    return {shown.key: [tuple(row) for row in shown.rows] for shown in page.context["shown"]}


def test_each_table_adds_up_what_was_found_without_what_nobody_has_signed(client, four, colleague):
    client.force_login(colleague.user)
    page = client.get(reverse("register_pictures"))
    said = tables(page)
    assert said["weeks"] == [("09/14/2026", "2"), ("09/21/2026", "0"), ("09/28/2026", "1")]
    ((product, unit, together, *months),) = said["use"]
    assert (product.startswith("Sample Moss Wash ("), unit) == (True, "gal")
    assert (together, months) == ("6", ["6"])
    assert [row[2] for row in said["findings"]] == ["2", "1"]
    assert said["wind"] == [
        ("09/14/2026", "4.47", "3.36", "1"),
        ("09/28/2026", "6.71", "3.36", "1"),
    ]
    assert page.content.decode().count("<svg") >= 4


def test_over_years_each_table_is_by_month_and_says_months_alike(client, four, colleague):
    client.force_login(colleague.user)
    Treatment.objects.for_firm(four[0].firm).filter(pk=four[0].pk).update(day=date(2024, 1, 10))
    page = client.get(reverse("register_pictures"))
    said, names = tables(page), {each.key: list(each.names) for each in page.context["shown"]}
    assert (said["weeks"][0], said["wind"][0][0]) == (("Jan 2024", "1"), "Jan 2024")
    assert (names["weeks"][0], names["wind"][0], names["use"][3]) == ("Month", "Month", "Jan 2024")


def test_pictures_are_of_the_search_and_leave_out_what_is_void(client, four, colleague):
    client.force_login(colleague.user)
    Treatment.objects.for_firm(four[0].firm).filter(pk=four[1].pk).update(state="void")
    page = client.get(reverse("register_pictures"), {"day_to": "2026-09-20"})
    assert tables(page)["weeks"] == [("09/14/2026", "1")]
    assert tables(page)["use"][0][2] == "1"
    none = client.get(reverse("register_pictures"), {"customer": "nobody"})
    assert none.context["shown"] == []


def test_an_inspector_is_shown_neither_findings_nor_limits_nor_drafts(client, four, member):
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    said = tables(client.get(reverse("register_pictures")))
    assert "findings" not in said
    assert said["wind"] == [("09/14/2026", "4.47"), ("09/28/2026", "6.71")]
    assert said["weeks"][-1] == ("09/28/2026", "1")


def test_sites_with_a_position_are_on_the_map_and_the_others_are_counted(client, four, colleague, plan):
    client.force_login(colleague.user)
    plan.site.latitude = plan.site.longitude = ""
    plan.site.save()
    shown = client.get(reverse("register_pictures")).context["shown"]
    without = next(each for each in shown if each.key == "map")
    assert (without.picture, without.rows) == (None, [])
    assert "1" in without.note
    plan.site.latitude, plan.site.longitude = "47.1000", "-122.9000"
    plan.site.save()
    page = client.get(reverse("register_pictures"))
    assert tables(page)["map"] == [("1", plan.site.name, "3")]
    assert 'class="disc"' in page.content.decode()


def test_more_than_can_be_drawn_is_said_and_not_drawn(client, four, colleague, monkeypatch):
    monkeypatch.setattr("records.pages.register_pictures.COUNTED", 2)
    client.force_login(colleague.user)
    page = client.get(reverse("register_pictures"))
    assert page.context["shown"] == []
    assert "Search for fewer" in page.content.decode()


def test_sums_are_of_one_firm_alone(firm, four, stranger):
    ours = treatments_of(firm)
    assert rules_open(stranger.firm, ours) == []
    assert used(stranger.firm, ours, ("gal", "lb")) == ([], [])
    rows = found_rows(ours, 10)
    assert sum(n for _start, n in by_step(rows)) == 3
    assert [wind.over for wind in winds(rows)] == [1, 0, 1]


def test_the_limit_that_was_passed_is_shown_where_the_strongest_wind_had_none():
    day = date(2025, 3, 3)
    rows = [Found(day, None, Decimal(8), None), Found(day, None, Decimal(6), Decimal(4))]
    (week,) = winds(rows)
    assert (week.wind, week.limit, week.over) == (8, 4, 1)
    (calm,) = winds([rows[0], Found(day, None, Decimal(3), Decimal(4))])
    assert (calm.limit, calm.over) == (None, 0)
