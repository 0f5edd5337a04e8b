"""The invented firm's two years, before anything is entered: plausible, and the same every time."""

from collections import Counter
from datetime import date, timedelta

import pytest

from project.demo.events import events_of
from project.demo.source import read_firm
from project.demo.visits import Calendar

SOURCE = read_firm("quillfeather")
VISITS = Calendar(SOURCE).visits()
EVENTS = events_of(SOURCE, VISITS)


def test_the_firm_has_what_the_story_promises():
    assert [len(part) for part in (SOURCE.rigs, SOURCE.people, SOURCE.products, SOURCE.sites)] == [
        3,
        6,
        5,
        40,
    ]
    assert len(VISITS) == 300
    assert all(rig["calibrations"] for rig in SOURCE.rigs)
    assert {site["customer"]["name"] for site in SOURCE.sites} >= {"A. Marlowe"}
    assert all(site["features"] for site in SOURCE.sites)


def test_the_story_is_the_same_every_time():
    assert Calendar(read_firm("quillfeather")).visits() == VISITS


def test_the_visits_reach_over_two_years_in_their_order():
    assert [visit.starts_at for visit in VISITS] == sorted(visit.starts_at for visit in VISITS)
    assert VISITS[-1].day - VISITS[0].day > timedelta(days=720)
    assert VISITS[-1].day <= date.fromisoformat(SOURCE.story["last_day"])


def test_every_site_and_every_product_is_met():
    assert {visit.job.site for visit in VISITS} == {site["key"] for site in SOURCE.sites}
    sprayed = {visit.product for visit in VISITS}
    assert sprayed == {product["key"] for product in SOURCE.products if product["kind"] == "pesticide"}


def test_spring_and_autumn_are_busier_than_midsummer_and_midwinter():
    by_month = Counter(visit.day.month for visit in VISITS)
    assert min(by_month[month] for month in (3, 4, 5, 9, 10)) > max(by_month[month] for month in (1, 7, 12))


def test_nobody_works_in_the_rain_or_on_a_weekend():
    worked = [visit for visit in VISITS if visit.index not in EVENTS.stood_down]
    assert not [visit for visit in worked if visit.weather.wet or visit.day.weekday() > 4]


def test_no_site_is_visited_twice_within_a_week():
    last: dict[str, date] = {}
    for visit in VISITS:
        before = last.get(visit.job.site)
        assert before is None or visit.day - before >= timedelta(days=7)
        last[visit.job.site] = visit.day


def test_two_days_were_stood_down_for_wind():
    days = {VISITS[index].day for index in EVENTS.stood_down}
    assert len(days) == 2


def test_a_lapsed_licence_is_noticed_after_its_last_three_visits():
    lapsed = [index for index, row in EVENTS.faults.items() if row["what"] == "lapsed-licence"]
    tran = [visit.index for visit in EVENTS.visits if visit.applicator == "V. Tran"]
    assert lapsed == tran[-3:]
    assert all(str(EVENTS.visits[index].day) > "2026-03-31" for index in lapsed)
    assert not [index for index in set(tran) - set(lapsed) if str(EVENTS.visits[index].day) > "2026-03-31"]


def test_two_houses_of_one_day_share_a_tank():
    first, second = (EVENTS.visits[index] for index in EVENTS.shared_tank)
    assert (first.day, first.rig, first.way) == (second.day, second.rig, second.way)
    assert first.job.site != second.job.site


@pytest.mark.parametrize("row", SOURCE.story["faults"], ids=lambda row: f"{row['what']} {row['from']}")
def test_each_fault_has_a_reason_in_a_persons_words(row):
    assert len(row["reason"].split()) > 5


def test_the_helper_never_sprays():
    helper = next(person for person in SOURCE.people if person["role"] == "helper")
    assert "sprayed" not in helper["usual"]["tasks"]
    assert helper["name"] not in {visit.applicator for visit in VISITS}
