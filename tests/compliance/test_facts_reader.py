"""The treatment document and its context as facts: derived values and measured quantities."""

from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.facts import Branch, Items, Leaf
from compliance.rulebook.sizes import Exact
from shared.quantities import Quantity
from tests.compliance.facts_of import derived, facts, measured, shown


@pytest.mark.parametrize(
    ("at", "counts"),
    [
        ("2026-09-14T08:41:59-07:00", 0),
        ("2026-09-14T08:42:00-07:00", 1),
        ("2026-09-14T09:22:00-07:00", 1),
        ("2026-09-14T09:22:01-07:00", 0),
    ],
)
def test_a_reading_is_one_at_the_start_from_half_an_hour_before_to_ten_minutes_after(
    at: str, counts: int
) -> None:
    """The start is at 09:12; the bounds are our reading of 'at the start'."""
    assert len(derived("readings_at_start", {"weather.readings": [{"at": at}]}).items) == counts


@pytest.mark.parametrize(
    ("changes", "day", "lacks"),
    [
        ({}, "2026-09-14", ()),
        ({"timing.started_at": "2026-09-15T05:00:00Z"}, "2026-09-14", ()),
        ({"timing": {"planned_at": "2026-09-20T09:00:00-07:00"}}, "2026-09-20", ()),
        ({"timing": None}, "None", ("timing.started_at",)),
    ],
)
def test_the_day_is_the_local_day_of_the_start_else_of_the_plan(
    changes: dict[str, Any], day: str, lacks: tuple[str, ...]
) -> None:
    changes = {"timing.finished_at": None, **changes} if "timing" not in changes else changes
    found = facts(changes)
    assert (str(found.day), found.day_lacks) == (day, lacks)


def test_without_a_zone_the_offset_of_the_start_is_the_sites_clock() -> None:
    naive = datetime.fromisoformat("2026-09-14T12:00:00")
    assert str(facts({"site.time_zone": None}).local(naive)) == "2026-09-14 12:00:00-07:00"
    assert str(facts({"site": None, "timing": None}).local(naive)) == "2026-09-14 12:00:00+00:00"


@pytest.mark.parametrize(
    ("changes", "value", "lacks"),
    [
        ({}, False, ()),
        ({"mixes[0].products[0].restricted_use": True}, True, ()),
        ({"mixes[0].products[0].restricted_use": None}, None, ("mixes[0].products[0].restricted_use",)),
        ({"mixes": None}, None, ("mixes",)),
        ({"mixes": None, "record.result": "stood-down"}, False, ()),
    ],
)
def test_a_treatment_is_restricted_if_any_of_its_products_is(
    changes: dict[str, Any], value: bool | None, lacks: tuple[str, ...]
) -> None:
    leaf = derived("restricted_use", changes)
    assert (leaf.value, leaf.lacks) == (value, lacks)


@pytest.mark.parametrize(
    ("changes", "count", "lacks"),
    [
        ({}, 1, ()),
        ({"mixes": None}, 0, ("mixes",)),
        ({"mixes": []}, 0, ("mixes",)),
        ({"mixes[0].products": []}, 0, ("mixes",)),
        ({"mixes[0].products": None}, 0, ("mixes[0].products",)),
        ({"mixes": [], "record.result": "stood-down"}, 0, ()),
    ],
)
def test_where_something_was_applied_there_is_a_product_stated_or_not(
    changes: dict[str, Any], count: int, lacks: tuple[str, ...]
) -> None:
    products = derived("products", changes)
    assert (len(products.items), products.lacks) == (count, lacks)


def test_people_are_told_apart_by_their_tasks() -> None:
    helper = {"name": "T. Abara", "tasks": ["hose"]}
    changes = {"people[1]": helper}
    names = {
        name: [item.members["name"].value for item in derived(name, changes).items]
        for name in ("applicators", "mixers", "helpers")
    }
    assert names == {"applicators": ["R. Osei"], "mixers": ["R. Osei"], "helpers": ["T. Abara"]}
    assert derived("applicators", {"people[1]": {"name": "T. Abara"}}).lacks == ("people[1].tasks",)


def test_areas_are_added_across_units() -> None:
    """1 m² is 10.7639 ft² (NIST SP 811, appendix B: 1 ft² = 9.290 304 E-02 m²)."""
    walk = {"name": "Walk", "treated_area": {"value": "9.290304", "unit": "m**2"}}
    assert derived("total_area", {"surfaces[1]": walk}).value == Exact(Fraction(1442), "ft**2")
    assert derived("total_area", {"surfaces[1]": {"name": "Walk"}}).lacks == ("surfaces[1].treated_area",)
    assert derived("total_area", {"surfaces": [], "mixes": None}).lacks == ("surfaces",)


@pytest.mark.parametrize("kind", ["pond", "stream", "lake", "shore", "wetland", "well"])
def test_the_least_distance_of_water_is_measured(kind: str) -> None:
    water = {"site.features[2]": {"kind": kind, "distance": {"value": "40", "unit": "ft"}}}
    assert shown(measured("buffer", "ft", water)) == [Quantity("40", "ft")]
    assert measured("buffer", "ft", {"site.features[2]": {"kind": kind}})[0].lacks == (
        "site.features[2].distance",
    )


def test_the_distance_of_a_well_is_not_that_of_other_water() -> None:
    well = {"site.features[2]": {"kind": "well", "distance": {"value": "40", "unit": "ft"}}}
    pond = {"site.features[2]": {"kind": "pond", "distance": {"value": "4", "unit": "ft"}}}
    assert shown(measured("well_distance", "ft", well)) == [Quantity("40", "ft")]
    assert measured("well_distance", "ft", pond) == ()
    assert measured("well_distance", "ft", {"site.features": None, "protection": None})[0].lacks == (
        "site.features",
    )


def test_the_letters_of_each_sign_are_measured() -> None:
    small = {"postings[0].letters": {"value": "9", "unit": "mm"}, "postings[1]": {"where": "back gate"}}
    lettered, unstated = measured("sign_letters", "inch", small, judges="document")
    assert (lettered.value, unstated.lacks) == (Quantity("9", "mm"), ("postings[1].letters",))
    assert measured("sign_letters", "inch", {"postings": None}, judges="document")[0].lacks == ("postings",)
    assert measured("sign_letters", "inch", {"postings": []}, judges="document") == ()


@pytest.mark.parametrize("unknown", ["site", "site.features"])
def test_unknown_features_leave_the_distance_of_water_unknown(unknown: str) -> None:
    assert measured("buffer", "ft", {unknown: None, "protection": None})[0].lacks == ("site.features",)
    assert measured("buffer", "ft") == ()


@pytest.mark.parametrize(
    ("reentry", "hours"),
    [("2026-09-14T13:47:00-07:00", "4"), ("2026-09-14T20:47:00Z", "4"), ("2026-09-14T09:00:00-07:00", "0")],
)
def test_time_to_reentry_runs_from_the_finish_and_is_never_negative(reentry: str, hours: str) -> None:
    assert shown(measured("reentry", "hour", {"timing.reentry_at": reentry})) == [hours]


@pytest.mark.parametrize(
    ("missing", "lacks"),
    [("weather", "weather.forecast.dry_until"), ("timing.finished_at", "timing.finished_at")],
)
def test_dry_time_names_what_it_lacks(missing: str, lacks: str) -> None:
    assert measured("hours_dry_after", "hour", {missing: None})[0].lacks == (lacks,)


@pytest.mark.parametrize("name", ["coverage", "dilution", "product_rate", "days_between"])
def test_what_belongs_to_a_product_is_not_measured_on_a_person(name: str) -> None:
    assert measured(name, "percent", judges="people") == ()


def test_readings_are_in_the_order_of_their_times_and_calm_air_is_still() -> None:
    early = {"at": "2026-09-14T09:00:00-07:00", "calm": True}
    found = derived("readings", {"weather.readings[1]": early})
    assert [item.path for item in found.items] == ["weather.readings[1]", "weather.readings[0]"]
    assert found.items[0].members["wind_speed"].value == Quantity("0", "mph")
    assert [item.path for item in derived("readings_between", {"weather.readings[1]": early}).items] == [
        "weather.readings[0]"
    ]


def test_a_reading_inside_a_pause_is_none_of_the_work():
    """A crew that stops for the wind and measures it must not break the limit by measuring."""
    gale = {"at": "2026-09-14T09:30:00-07:00", "wind_speed": {"value": "22", "unit": "mph"}}
    pause = {"started_at": "2026-09-14T09:28:00-07:00", "finished_at": "2026-09-14T09:40:00-07:00"}
    stopped = {"weather.readings[1]": gale, "timing.pauses": [pause]}
    assert [one.value for one in measured("wind_speed", "mph", stopped)] == [Quantity("4", "mph")]
    assert [item.path for item in derived("readings_between", stopped).items] == ["weather.readings[0]"]
    assert [item.path for item in derived("readings", stopped).items] == ["weather.readings[0]"]


@pytest.mark.parametrize(
    "pause",
    [
        {"started_at": "2026-09-14T09:30:00-07:00", "finished_at": "2026-09-14T09:40:00-07:00"},
        {"started_at": "2026-09-14T09:20:00-07:00", "finished_at": "2026-09-14T09:30:00-07:00"},
        {"started_at": "2026-09-14T09:30:00-07:00"},
        {"finished_at": "2026-09-14T09:30:00-07:00"},
    ],
)
def test_a_reading_as_a_pause_begins_or_ends_is_one_of_the_work(pause):
    gale = {"at": "2026-09-14T09:30:00-07:00", "wind_speed": {"value": "22", "unit": "mph"}}
    windy = {"weather.readings[1]": gale, "timing.pauses": [pause]}
    assert Quantity("22", "mph") in [one.value for one in measured("wind_speed", "mph", windy)]


@pytest.mark.parametrize(
    ("stated", "lacking"),
    [
        ({"started_at": "2026-09-14T09:28:00-07:00"}, "finished_at"),
        ({"finished_at": "2026-09-14T09:31:00-07:00"}, "started_at"),
    ],
)
def test_of_a_pause_without_one_of_its_ends_it_is_unknown_which_readings_lie_in_it(stated, lacking):
    gale = {"at": "2026-09-14T09:30:00-07:00", "wind_speed": {"value": "22", "unit": "mph"}}
    found = measured("wind_speed", "mph", {"weather.readings[1]": gale, "timing.pauses": [stated]})
    assert Quantity("22", "mph") not in [one.value for one in found]
    assert found[0].lacks == (f"timing.pauses[0].{lacking}",)


def test_without_start_or_finish_a_reading_may_belong() -> None:
    planned = {"record.result": None, "timing": {"planned_at": "2026-09-20T09:00:00-07:00"}}
    found = derived("readings", planned)
    assert (found.items, found.lacks) == ((), ("timing.started_at", "timing.finished_at"))
    assert derived("readings", {"timing.finished_at": None}).lacks == ("timing.finished_at",)
    before = {"timing.finished_at": None, "weather.readings[0].at": "2026-09-14T09:00:00-07:00"}
    assert (len(derived("readings", before).items), derived("readings", before).lacks) == (1, ())
    assert derived("readings_between", planned).lacks == ("timing.started_at", "timing.finished_at")


def test_every_fact_that_is_read_is_in_the_vocabulary() -> None:
    def walk(node: Any, term: Any, path: str) -> None:
        if isinstance(node, Branch):
            assert term.sort == "group", path
            for name, member in node.members.items():
                if name not in ("min", "max") or "limits" not in path:
                    walk(member, term.members[name], f"{path}.{name}")
        elif isinstance(node, Items):
            assert term.sort == "list", path
            for item in node.items:
                walk(item, term.item, f"{path}[]")
        else:
            assert isinstance(node, Leaf)
            assert term.sort not in ("group", "list"), path

    found = facts()
    walk(found.root, VOCABULARY.document, "")
    for judges, roots in VOCABULARY.subjects.items():
        for subject in found.subjects[judges].subjects:
            for root, branch in subject.roots.items():
                walk(branch, roots[root], root)


def test_every_fact_has_a_name_for_a_person_in_both_languages() -> None:
    label = VOCABULARY.label("surfaces[0].treated_area")
    assert (label.say("en"), label.say("es")) == ("Treated area", "Superficie tratada")
    assert VOCABULARY.label("no.such.member").say("en") == "no.such.member"


def test_a_member_that_no_rule_reads_has_a_name_all_the_same() -> None:
    assert VOCABULARY.label("context.earlier").say("en") == "Earlier treatments"
    assert VOCABULARY.label("context.earlier[0].timing.started_at").say("es") == (
        "Tratamientos anteriores: Comienzo de la aplicación"
    )
    assert VOCABULARY.label("mixes[0].products[0].label.limits[0].max").say("en") == "Most"
    assert VOCABULARY.label("weather.mood").say("en") == "weather.mood"
