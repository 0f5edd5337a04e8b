"""Reports as their authority asks for them, against tables that were worked by hand from the records.

California: fields of 3 CCR 6627(b) as a State study guide restates them: county, month, site, pesticide with
its number, amount, applications of each and of the month. New York: ECL 33-1205(1)(a) to (e): number, name,
quantity, date, address with five-digit zip code. British Columbia: the ministry's page and a trade
association's note of January 2024 on the annual summary: kilograms of product from the container, a litre
counting as one kilogram, a line for each registration number.
"""

from typing import Any

from compliance.pack_reader import registered_packs
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.report_form import ReportForm
from tests.compliance.reports.documents import GRANULES, SPREADER, WASH, document, mix, reported, table


def form_of(rule: str) -> ReportForm:
    rules = {each.id: each for pack in registered_packs() for each in pack.rules}
    (duty,) = rules[rule].all_duties
    assert isinstance(duty.kind, Report)
    return duty.kind.form


def march() -> list[dict[str, Any]]:
    """A roof: 1.5 gal in 15 gal of mix, 14 applied: 1.5 x 14 / 15 = 1.4 gal, and of 6 fl oz of spreader 5.6,
    which is 5.6 / 128 = 0.04375 gal. A shop's wall: 64 fl oz (half a gallon) in 8 gal, all applied. A second
    roof: 3 L in 30 L, 15 L applied: 1.5 L, which is 1.5 / 3.785411784 gal. A walk: 3 lb of granules."""
    spread = mix((WASH, "1.5 gal"), (SPREADER, "6 fl_oz"), water="13.453125 gal", applied="14 gal")
    wall = mix((WASH, "64 fl_oz"), water="7.5 gal", applied="8 gal", on="wall")
    metric = mix((WASH, "3 L"), water="27 L", applied="15 L")
    walk = mix((GRANULES, "3 lb"), water=None, applied="3 lb", on="walk")
    at = {"line1": "4 Heron Row", "city": "Port Quill", "region": "NY", "postcode": "10901"}
    return [
        document(spread, day="2026-03-02", address=at),
        document(wall, day="2026-03-09", use="business", address={**at, "line1": "9 Dock Street"}),
        document(metric, walk, day="2026-03-10", address=at),
    ]


def test_california_asks_for_each_site_and_pesticide_with_amount_and_number_of_applications():
    report = reported(march(), form_of("us-ca/report/monthly"))
    assert table(report, "asked") == [
        ("business", "wall", "99999-12", "Sample Moss Wash", "0.5", "gal", 1),
        ("residence", "roof", "", "Sample Spreader", "0.04375", "gal", 1),
        ("residence", "roof", "99999-12", "Sample Moss Wash", "1.79626", "gal", 2),
        ("residence", "walk", "99999-40", "Sample Granules", "3", "lb", 1),
    ]
    assert report["applications"] == 3


def test_new_york_asks_for_each_application_with_its_day_and_address():
    report = reported(march(), form_of("us-ny/report/annual"))
    home, shop = "4 Heron Row, Port Quill NY 10901", "9 Dock Street, Port Quill NY 10901"
    assert table(report, "asked") == [
        ("2026-03-02", home, "99999-12", "Sample Moss Wash", "1.4", "gal", 1),
        ("2026-03-09", shop, "99999-12", "Sample Moss Wash", "0.5", "gal", 1),
        ("2026-03-10", home, "99999-12", "Sample Moss Wash", "0.396258", "gal", 1),
        ("2026-03-10", home, "99999-40", "Sample Granules", "3", "lb", 1),
    ]


def test_british_columbia_asks_for_kilograms_of_each_number_and_a_litre_counts_as_one():
    """1.4 gal + 0.5 gal = 1.9 gal = 7.1922823896 L, and 1.5 L: 8.6922823896 kg, whatever the density is.
    3 lb = 1.36077711 kg."""
    report = reported(march(), form_of("ca-bc/report/annual"))
    assert table(report, "asked") == [
        ("99999-12", "Sample Moss Wash", "8.69228", "kg", 3),
        ("99999-40", "Sample Granules", "1.36078", "kg", 1),
    ]


def test_by_the_density_of_the_label_a_litre_weighs_what_it_weighs():
    """8.6922823896 L x 8.9 lb/gal x 0.45359237 kg/lb / 3.785411784 L/gal = 9.26993 kg (NIST Handbook 44,
    appendix C, for the factors)."""
    report = reported(march(), ReportForm(units=("kg",)))
    assert table(report, "asked")[0] == ("99999-12", "Sample Moss Wash", "9.26993", "kg", 3)


def test_the_active_ingredient_is_volume_by_density_by_percent():
    """1.9 gal + 1.5 L = 2.2962581 gal x 8.9 lb/gal x 38 % = 7.765945 lb; 3 lb x 99 % = 2.97 lb."""
    report = reported(march(), form_of("us-ca/report/monthly"))
    assert table(report, "ingredient") == [
        ("invented active", "7.76594", "lb", 3),
        ("invented salt", "2.97", "lb", 1),
    ]


def test_the_school_report_counts_schools_and_day_cares_alone():
    school = document(*march()[0]["mixes"], use="school", name="Quill School")
    report = reported([*march(), school], form_of("us-ca/report/school"))
    lines = table(report, "asked")
    assert [line[0] for line in lines] == ["Quill School", "Quill School"]
    assert report["applications"] == 1
