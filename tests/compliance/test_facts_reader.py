"""The treatment document and its context as facts: derived values and measured quantities."""

from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.rulebook.facts import Branch, Items, Leaf
from compliance.rulebook.sizes import Exact, Measured
from records.document.context import read_context
from records.document.reader import read
from shared.quantities import Quantity
from tests.compliance.patched import load, patched

SURFACE = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b77"
NAMELESS = {"surfaces[0].name": None, "surfaces[0].id": SURFACE, "mixes[0].surfaces[0].surface": SURFACE}
OTHER = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b99"


def facts(changes: dict[str, Any] | None = None, context: dict[str, Any] | None = None) -> Any:
    document = read(patched(load("facts/roof-in-september.json"), changes or {}))
    given = patched(load("facts/roof-in-september.context.json"), context or {})
    return read_facts(document, read_context(given))


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


def derived(name: str, changes: dict[str, Any] | None = None) -> Any:
    return facts(changes).root.members["treatment"].members[name]


def measured(
    name: str, unit: str | None = None, changes: Any = None, context: Any = None, judges: str = "products"
) -> tuple[Measured, ...]:
    return facts(changes, context).subjects[judges].subjects[0].measure(name, unit)


def earlier(day: str, **changes: Any) -> dict[str, Any]:
    times = {"timing": {"started_at": f"{day}T09:00:00-07:00"}, "record.id": OTHER}
    return patched(load("facts/roof-in-september.json"), {**times, **changes})


def shown(found: tuple[Measured, ...]) -> list[Any]:
    return [one.value.as_json()["value"] if isinstance(one.value, Exact) else one.value for one in found]


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


def test_the_rate_and_the_strength_of_a_product_are_exact() -> None:
    """1.5 gal in 15 gal is 10 %, and 1.5 x 14 / 15 = 1.4 gal were applied to 1342 ft², by hand."""
    assert shown(measured("dilution", "percent")) == ["10"]
    assert shown(measured("product_rate", "gal/(1000 ft**2)")) == ["1.04322"]


def test_the_strength_of_a_weighed_product_is_a_weight_per_volume() -> None:
    """3 lb in 13.5 gal of water, the volume of the dry product left out: 22.2222 lb per 100 gal, by hand."""
    weighed = {"mixes[0].products[0].amount": {"value": "3", "unit": "lb"}}
    weighed["mixes[0].products[0].density"] = None
    product = facts(weighed).subjects["products"].subjects[0].roots["product"]
    assert product.members["strength"].value == Exact(Fraction(200, 9), "lb/(100 gal)")
    found = measured("dilution", "percent", weighed)
    assert found[0].lacks == ("mixes[0].products[0].amount",)


def test_treatments_of_the_calendar_year_are_counted_with_this_one() -> None:
    context = {"earlier": [earlier("2026-08-01"), earlier("2026-01-01"), earlier("2025-12-31")]}
    assert shown(measured("applications_per_year", None, None, context)) == [3]
    assert shown(measured("applications_per_year")) == [1]
    assert measured("applications_per_year", None, None, {"earlier": None})[0].lacks == ("context.earlier",)


def test_product_per_area_is_added_up_over_the_year() -> None:
    """Twice 1.4 gal on 1342 ft², by hand."""
    context = {"earlier": [earlier("2026-08-01"), earlier("2025-12-31")]}
    assert shown(measured("per_year", "gal/(1000 ft**2)", None, context)) == ["2.08644"]
    assert measured("per_year", "gal/acre", None, {"earlier": None})[0].lacks == ("context.earlier",)
    unknown = {"earlier": [earlier("2026-08-01", **{"mixes[0].applied": None})]}
    assert measured("per_year", "gal/acre", None, unknown)[0].lacks == (
        "context.earlier[0].mixes[0].applied",
    )


def test_what_may_have_been_a_use_counts_in_its_own_year_only() -> None:
    number = "mixes[0].products[0].registration_number"
    for year, lacks in (("2025", ()), ("2026", (f"context.earlier[0].{number}",))):
        context = {"earlier": [earlier(f"{year}-08-01", **{number: None})]}
        for name, unit in (("applications_per_year", None), ("per_year", "gal/acre")):
            assert measured(name, unit, None, context)[0].lacks == lacks


def test_an_earlier_use_on_an_unknown_day_is_named() -> None:
    undated = patched(load("facts/roof-in-september.json"), {"timing": None, "record.id": OTHER})
    found = measured("days_between", "day", None, {"earlier": [undated]})
    assert found[0].lacks == ("context.earlier[0].timing.started_at",)


@pytest.mark.parametrize(
    ("changes", "lacking"),
    [
        ({"mixes": None}, "mixes"),
        ({"mixes[0].products": None}, "mixes[0].products"),
        ({"mixes[0].products[0].registration_number": None}, "mixes[0].products[0].registration_number"),
        ({"mixes[0].surfaces": None}, "mixes[0].surfaces"),
        ({"mixes[0].surfaces[0].surface": None}, "mixes[0].surfaces[0].surface"),
        ({"surfaces": None, "mixes[0].surfaces": None}, "surfaces"),
        (NAMELESS, "surfaces[0].name"),
    ],
)
def test_an_earlier_treatment_that_may_have_used_the_product_here_is_named(
    changes: dict[str, Any], lacking: str
) -> None:
    found = measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **changes)]})
    assert found[0].lacks == (f"context.earlier[0].{lacking}",)


@pytest.mark.parametrize(
    "changes",
    [
        {"mixes": None, "record.result": "stood-down"},
        {"mixes[0].products[0].registration_number": None, "mixes[0].products[0].kind": "adjuvant"},
    ],
)
def test_an_earlier_treatment_that_can_not_have_used_it_does_not_count(changes: dict[str, Any]) -> None:
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **changes)]}) == ()


@pytest.mark.parametrize("number", ["99999 - 12", "99999–12", "EPA Reg. No. 99999-12"])
@pytest.mark.parametrize("name", ["main roof,  North slope", "Main roof, north slope "])
def test_an_earlier_use_counts_however_number_and_surface_were_typed(number: str, name: str) -> None:
    typed = {
        "mixes[0].products[0].registration_number": number,
        "surfaces[0].name": name,
        "mixes[0].surfaces[0].surface": name,
    }
    context = {"earlier": [earlier("2026-09-01", **typed)]}
    assert shown(measured("days_between", "day", None, context)) == ["13"]
    assert shown(measured("applications_per_year", None, None, context)) == [2]
    assert shown(measured("site_applications_per_year", None, None, context)) == [2]


@pytest.mark.parametrize("number", ["9999-912", "99999-12-1", "99999-13"])
def test_another_number_is_another_product_however_alike_its_digits(number: str) -> None:
    typed = {"mixes[0].products[0].registration_number": number}
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-01", **typed)]}) == ()


@pytest.mark.parametrize("number", ["n/a", "None", "-", " – ", "0", "unknown", "EPA Reg. No."])
def test_what_stands_in_for_a_registration_number_is_none(number: str) -> None:
    path = "mixes[0].products[0].registration_number"
    line = facts({path: number}).subjects["products"].subjects[0].roots["product"]
    assert "registration_number" not in line.members
    found = measured("days_between", "day", {path: number}, {"earlier": [earlier("2026-09-01")]})
    assert found[0].lacks == (path,)


STOOD_DOWN = {
    "record.result": "stood-down",
    "mixes[0].applied": None,
    "mixes[0].surfaces[0].applied": None,
}


def test_what_was_planned_for_a_day_stood_down_is_no_use():
    context = {"earlier": [earlier("2026-09-01", **STOOD_DOWN)]}
    assert measured("days_between", "day", None, context) == ()
    assert shown(measured("applications_per_year", None, None, context)) == [1]
    assert shown(measured("site_applications_per_year", None, None, context)) == [1]


def test_a_day_said_to_be_stood_down_on_which_something_was_applied_is_a_use():
    sprayed = STOOD_DOWN | {"mixes[0].applied": {"value": "3", "unit": "gal"}}
    context = {"earlier": [earlier("2026-09-01", **sprayed)]}
    assert shown(measured("days_between", "day", None, context)) == ["13"]


def a_mix(mix: str = "mixes[0]", **changes: Any) -> Any:
    """The example's mix once more, with changes in it."""
    again = patched(load("facts/roof-in-september.json"), {f"{mix}.{k}": v for k, v in changes.items()})
    return again["mixes"][0]


def test_two_mixes_of_one_product_on_one_roof_are_added_up():
    """A label's rate is of the application: twice 1.4 gal of product, and twice 14 gal of mix, on 1342 ft²."""
    twice = {"mixes[1]": a_mix()}
    assert shown(measured("product_rate", "gal/(1000 ft**2)", twice)) == ["2.08644"]
    assert shown(measured("coverage", "gal/(100 ft**2)", twice)) == ["2.08644"]
    assert shown(measured("per_year", "gal/(1000 ft**2)", twice)) == ["2.08644"]
    shared_amount = {"mixes[1]": a_mix(**{"surfaces[0].applied": None})}
    assert shown(measured("coverage", "gal/(100 ft**2)", shared_amount)) == ["2.08644"]


def test_a_mix_of_the_product_whose_surfaces_or_amounts_are_not_stated_leaves_the_sum_open():
    bare = {"mixes[1]": a_mix(surfaces=None)}
    unapplied = {"mixes[1]": a_mix(applied=None, **{"surfaces[0].applied": None})}
    for name, unit in (("product_rate", "gal/(1000 ft**2)"), ("coverage", "gal/(100 ft**2)")):
        assert measured(name, unit, bare)[0].lacks == ("mixes[1].surfaces",)
        assert measured(name, unit, unapplied)[0].lacks == ("mixes[1].applied",)


@pytest.mark.parametrize(
    "other",
    [
        {"products[0].registration_number": "99999-13"},
        {"products[0].registration_number": None, "products[0].name": "Sample Wetter"},
    ],
)
def test_a_mix_of_another_product_on_the_same_roof_is_not_added(other):
    twice = {"mixes[1]": a_mix(**other)}
    assert shown(measured("product_rate", "gal/(1000 ft**2)", twice)) == ["1.04322"]
    assert shown(measured("coverage", "gal/(100 ft**2)", twice)) == ["1.04322"]


def test_a_mix_of_the_product_on_another_surface_is_a_rate_of_its_own():
    """14 gal on 1342 ft² and on 671 ft²: 1.04322 and 2.08644 gal per 100 ft²."""
    walk = {"name": "Walk", "treated_area": {"value": "671", "unit": "ft**2"}}
    twice = {"surfaces[1]": walk, "mixes[1]": a_mix(**{"surfaces[0].surface": "Walk"})}
    roof, path = facts(twice).subjects["products"].subjects
    for name, unit in (("product_rate", "gal/(1000 ft**2)"), ("coverage", "gal/(100 ft**2)")):
        assert shown(roof.measure(name, unit)) == ["1.04322"]
        assert shown(path.measure(name, unit)) == ["2.08644"]


@pytest.mark.parametrize("number", ["99999-12", None])
def test_one_product_from_two_lots_in_one_mix_has_one_strength(number):
    """0.75 gal of one lot and 0.75 gal of another in 15 gal are 10 %, by hand."""
    line = load("facts/roof-in-september.json")["mixes"][0]["products"][0]
    half = {"mixes[0].products[0].amount": {"value": "0.75", "unit": "gal"}}
    other_lot = line | {"amount": {"value": "0.75", "unit": "gal"}, "lot": "L-0458"}
    two_lots = half | {"mixes[0].products[1]": other_lot | {"registration_number": number}}
    assert shown(measured("dilution", "percent", two_lots)) == ["10"]
    assert shown(measured("product_rate", "gal/(1000 ft**2)", two_lots)) == ["1.04322"]
    assert shown(measured("coverage", "gal/(100 ft**2)", two_lots)) == ["1.04322"]


def test_before_the_first_treatment_no_number_is_needed_to_know_that_none_came_before():
    number = {"mixes[0].products[0].registration_number": None}
    assert measured("days_between", "day", number, {"earlier": []}) == ()
    lacking = measured("days_between", "day", number, {"earlier": [earlier("2026-09-01")]})
    assert lacking[0].lacks == ("mixes[0].products[0].registration_number",)


def test_a_later_treatment_is_not_an_earlier_one() -> None:
    assert measured("days_between", "day", None, {"earlier": [earlier("2026-09-20")]}) == ()


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
    assert len(derived("readings", stopped).items) == 2


@pytest.mark.parametrize(
    "pause",
    [
        {"started_at": "2026-09-14T09:30:00-07:00", "finished_at": "2026-09-14T09:40:00-07:00"},
        {"started_at": "2026-09-14T09:20:00-07:00", "finished_at": "2026-09-14T09:30:00-07:00"},
        {"started_at": "2026-09-14T09:20:00-07:00"},
    ],
)
def test_a_reading_as_a_pause_begins_or_ends_is_one_of_the_work(pause):
    gale = {"at": "2026-09-14T09:30:00-07:00", "wind_speed": {"value": "22", "unit": "mph"}}
    windy = {"weather.readings[1]": gale, "timing.pauses": [pause]}
    assert Quantity("22", "mph") in [one.value for one in measured("wind_speed", "mph", windy)]


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
        "Tratamientos anteriores: Comienzo"
    )
    assert VOCABULARY.label("mixes[0].products[0].label.limits[0].max").say("en") == "Most"
    assert VOCABULARY.label("weather.mood").say("en") == "weather.mood"
